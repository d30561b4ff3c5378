export declare function allWords(): Promise<Readonly<Record<string, string>>>;
export declare function buildWith(words: Readonly<Record<string, string>>, into: string): Promise<void>;
