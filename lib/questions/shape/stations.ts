/** From the sections of a shape to the `bait` of a job file. */
import type { Station } from "../../job/types.ts";
import { type NamedSection, SMALLEST_SIDE } from "../../shape/choose-stations.ts";
import type { Point } from "../../shape/outline.ts";
import { extentOf } from "../../shape/polygon.ts";
import { unitOutline } from "../../shape/section-form.ts";

/** Over three to one it cools like a sheet. */
const FLAT_FROM = 3;

/** A section as a job has it. */
export function stationOf(section: NamedSection): Station {
  const { name, at, width, height, form, outline, rise } = section;
  const drawn = outline ?? (form === "lens" ? unitOutline("lens", height / width) : undefined);
  // an ellipse that was asked for stays one, however flat
  const thin = Math.max(width, height) > FLAT_FROM * Math.min(width, height);
  const flat = form === "flat" || (drawn !== undefined && thin);
  return {
    name,
    at,
    width,
    height,
    form: flat ? "flat" : "round",
    ...(drawn && { outline: drawn }),
    ...(rise && { rise }),
  };
}

/**
 * The `bait` of a job file: length and stations, as text with units.
 *
 * @param unit in which lengths are written
 * @example baitKeys(0.11, [{ name: "body", at: 0.05, width: 0.02, height: 0.02, form: "round" }], "mm")
 * .stations[0].width // "20 mm"
 */
export function baitKeys(
  length: number,
  sections: readonly NamedSection[],
  unit: "mm" | "in",
): Record<string, unknown> {
  const step = unit === "mm" ? 1e-3 : 0.0254;
  const decimals = unit === "mm" ? 2 : 4;
  const text = (si: number) => `${Number((si / step).toFixed(decimals)) + 0} ${unit}`;
  const point = ([x, y]: Point) => [text(x), text(y)];
  return {
    length: text(length),
    stations: sections
      .filter(({ width, height }) => Math.min(width, height) >= SMALLEST_SIDE)
      .map(({ name, at, width, height, form, outline, rise = 0 }) => ({
        name,
        at: text(Math.min(at, length)),
        width: text(width),
        height: text(height),
        form: outline ? stationOf({ name, at, width, height, form, outline }).form : form,
        ...(Math.abs(rise) >= 1e-4 && { rise: text(rise) }),
        ...(outline && { outline: centered(outline).map(point) }),
      })),
  };
}

/** Around its own middle, as a station's outline is. */
function centered(outline: readonly Point[]): Point[] {
  const { left, right, bottom, top } = extentOf(outline);
  return outline.map(([x, y]): Point => [x - (left + right) / 2, y - (bottom + top) / 2]);
}
