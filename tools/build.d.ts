type Target = "cli" | "site" | "lib";
export declare const root: string;
export declare function isStale(name: Target): boolean;
export declare function build(name: Target, options?: { force?: boolean }): Promise<void>;
