export declare const ROOT: string;
export declare function serveWorkbench(options: {
	folder: string;
	port?: number;
	settings?: object;
	git?: boolean;
}): Promise<{ readonly url: string; readonly close: () => Promise<void> }>;
