/** How a shot came out, in the words of a shop's log. */
export const shopVerdicts = ["good", "soft", "dent", "short", "bleed", "peel"] as const;
export type ShopVerdict = (typeof shopVerdicts)[number];
