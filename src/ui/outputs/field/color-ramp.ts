/**
 * The colors of a temperature field: more ink is hotter, so that a black-and-white print reads the same way.
 *
 * Even in OKLab: equal steps of temperature are equal steps of seen difference, and lightness falls all the way.
 * OKLab by Bjorn Ottosson, "A perceptual color space for image processing" (2020).
 */
type Rgb = readonly [number, number, number];

/** Lightness, chroma, hue in degrees: cool paper to straw, orange, red, dark iron. */
const STATIONS: readonly (readonly [number, number, number])[] = [
  [0.965, 0.02, 210],
  [0.9, 0.055, 105],
  [0.8, 0.12, 80],
  [0.67, 0.155, 55],
  [0.52, 0.16, 33],
  [0.38, 0.12, 20],
  [0.25, 0.06, 10],
];

const COUNT = 256;

const ramp: readonly Rgb[] = makeRamp();

/** The same colors as the bytes of a picture (red first in memory), for painting many cells. */
export const rampPixels: Uint32Array = Uint32Array.from(
  ramp,
  ([r, g, b]) => ((255 << 24) | (b << 16) | (g << 8) | r) >>> 0,
);

/** `share` 0 (cool) to 1 (hot). */
export function rampColor(share: number): Rgb {
  const i = Math.round(Math.min(1, Math.max(0, share)) * (COUNT - 1));
  return ramp[i]!;
}

function makeRamp(): Rgb[] {
  const fine = 1024;
  const points = Array.from({ length: fine + 1 }, (_, i) => labAt(i / fine));
  // walk along the curve: equal lengths in OKLab become equal shares
  const along = [0];
  for (let i = 1; i <= fine; i++) along.push(along[i - 1]! + distance(points[i - 1]!, points[i]!));
  const whole = along[fine]!;
  const colors: Rgb[] = [];
  let j = 0;
  for (let i = 0; i < COUNT; i++) {
    const wanted = (whole * i) / (COUNT - 1);
    while (j < fine && along[j]! < wanted) j++;
    colors.push(rgbOf(points[j]!));
  }
  return colors;
}

type Lab = readonly [number, number, number];

function labAt(share: number): Lab {
  const at = share * (STATIONS.length - 1);
  const i = Math.min(STATIONS.length - 2, Math.floor(at));
  const f = at - i;
  const a = toLab(STATIONS[i]!);
  const b = toLab(STATIONS[i + 1]!);
  return [a[0] + f * (b[0] - a[0]), a[1] + f * (b[1] - a[1]), a[2] + f * (b[2] - a[2])];
}

function toLab([lightness, chroma, hue]: readonly [number, number, number]): Lab {
  const h = (hue * Math.PI) / 180;
  return [lightness, chroma * Math.cos(h), chroma * Math.sin(h)];
}

function distance(a: Lab, b: Lab): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
}

function rgbOf([L, a, b]: Lab): Rgb {
  const l = (L + 0.3963377774 * a + 0.2158037573 * b) ** 3;
  const m = (L - 0.1055613458 * a - 0.0638541728 * b) ** 3;
  const s = (L - 0.0894841775 * a - 1.291485548 * b) ** 3;
  return [
    channel(4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s),
    channel(-1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s),
    channel(-0.0041960863 * l - 0.7034186147 * m + 1.707614701 * s),
  ];
}

function channel(linear: number): number {
  const v = linear <= 0.0031308 ? 12.92 * linear : 1.055 * linear ** (1 / 2.4) - 0.055;
  return Math.round(255 * Math.min(1, Math.max(0, v)));
}
