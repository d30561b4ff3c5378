export declare const INSTALLED: boolean;
export declare function startDesktop(options: {
	work: string;
	vsix: string;
}): Promise<{ readonly address: (folder: string) => string; readonly close: () => Promise<void> }>;
