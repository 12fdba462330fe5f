/** Made by tools/vite-plugins.ts when the site and the command are built. */
declare module "virtual:sandbox" {
  export const frameHtml: string;
  /** Names of the library that need `virtual:sandbox-shop`, and those that need `virtual:sandbox-full`. */
  export const shopNames: readonly string[];
  export const fullNames: readonly string[];
  export const prelude: string;
  export const names: readonly string[];
  export const version: string;
}

declare module "virtual:sandbox-shop" {
  export const prelude: string;
  export const names: readonly string[];
  export const version: string;
}

declare module "virtual:sandbox-full" {
  export const prelude: string;
  export const names: readonly string[];
  export const version: string;
}

/** The library's names that a prelude is built with. */
declare module "virtual:library" {
  const library: Readonly<Record<string, unknown>>;
  export = library;
}

declare module "virtual:notebooks" {
  type Shipped = import("./shelf/shipped.ts").ShippedDocument;
  export const firstPages: readonly Shipped[];
  export const shippedJobs: readonly Shipped[];
  /** Workings of the first page as JavaScript. */
  export const transpiled: Readonly<Record<string, string>>;
  /** Jobs that were read when the site was built. */
  export const jobReadings: readonly {
    readonly text: string;
    readonly read: import("./run/open-job.ts").JobOrProblems;
  }[];
}

declare module "virtual:pages" {
  /** All shipped pages but the first. */
  export const otherPages: readonly import("./shelf/shipped.ts").ShippedDocument[];
}

declare module "virtual:workings" {
  /** Workings of all other shipped pages as JavaScript. */
  export const transpiled: Readonly<Record<string, string>>;
}
