export declare const ROOT: string;
export declare function serveWorkbench(options: {
	folder: string;
	port?: number;
	settings?: object;
}): Promise<{ readonly url: string; readonly close: () => Promise<void> }>;
