/** Made by tools/site-plugins.ts when the site is built. */
declare module "virtual:library-words" {
  export const libraryWords: readonly {
    readonly name: string;
    readonly kind: "function" | "constant" | "class";
    readonly doc: string;
  }[];
}

/** Of package.json, put in by tools/vite.site.config.ts. */
declare const __VERSION__: string;
