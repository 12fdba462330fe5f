export declare const root: string;
export declare function isStale(name: "cli" | "site"): boolean;
export declare function build(name: "cli" | "site"): Promise<void>;
