/** Main numbers of the shipped pages, SI and kelvin; null: there is none. Our own, see pages.test.ts. */
export const PINNED: readonly {
  readonly page: string;
  readonly job: string;
  readonly numbers: Readonly<Record<string, number | null>>;
}[] = [
  { page: "first", job: "thick-swimmer", numbers: { "Open after": 896.72 } },
  {
    page: "demold",
    job: "thick-swimmer",
    numbers: { "Open after": 895.74, "Mold face at its hottest": 332.26 },
  },
  { page: "demold", job: "paddle-shad", numbers: { "Open after": 416.97 } },
  {
    page: "second-color",
    job: "two-tone-belly",
    numbers: {
      "Shoot the second color after": 156.12,
      "Opens after": 113.18,
      "Closes after": 210.92,
      "Then open after the second shot by": 413.89,
    },
  },
  {
    page: "shots",
    job: "evening-of-two",
    numbers: {
      "First shot opens after": 410.24,
      "Later ones settle at": 824.85,
      "Mold face at its hottest": 351.33,
    },
  },
  {
    page: "mix-and-master",
    job: "sculpt-to-bait",
    numbers: {
      "To mix in all": 2.3226,
      "Sculpt larger by": 0.042707,
      "Length of the first master": 0.1258,
    },
  },
  {
    page: "sprue-and-fill",
    job: "paddle-shad",
    numbers: {
      "Hold the injector on for": 43.95,
      "Still to shrink when it closes": 0.069143,
      "Thinnest sprue that feeds it to the end, with a gate as wide": 0.011479,
    },
  },
  {
    page: "sprue-and-fill",
    job: "pike-body",
    numbers: {
      "Hold the injector on for": 43.068,
      "Thinnest sprue that feeds it to the end, with a gate as wide": null,
    },
  },
  {
    page: "thick-pour",
    job: "four-kilo-half",
    numbers: {
      "Hottest it gets": 346.15,
      "It gels after (in one pour, not in layers)": 19850.3,
      "Deepest single pour, with room for bad luck": 0.03364,
      "Deepest that most likely stays below the limit": 0.073062,
    },
  },
  { page: "proof", job: "thick-swimmer", numbers: { "Values that agree": 1 } },
  {
    page: "walls",
    job: "thick-swimmer",
    numbers: { "Only in layers: a wall of": 0.012, "At most, poured in one go": 0.018631 },
  },
  { page: "method", job: "thick-swimmer", numbers: { "Largest difference": 0.0010406 } },
  { page: "shape", job: "caliper-shad", numbers: { "One bait weighs": 0.01045 } },
  { page: "swim", job: "caliper-shad", numbers: { "It sinks, each second": 0.32966 } },
  { page: "evening", job: "caliper-shad", numbers: { "Baits this evening": 10 } },
  { page: "touch", job: "thick-swimmer", numbers: { "Skin at opening": 311.41 } },
  { page: "budget", job: "reheated-cup", numbers: { "Used up so far": 0.27588 } },
  {
    page: "shop-log",
    job: "thick-swimmer",
    numbers: { "Such a bait may be opened after": 868.8 },
  },
  { page: "probe", job: "thick-swimmer", numbers: { "Such a bait may be opened after": 923.91 } },
];
