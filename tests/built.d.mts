export declare function ensureBuilt(): Promise<void>;
export default ensureBuilt;
