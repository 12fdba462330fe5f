/** From the checked file, every default filled in, to the Job: materials looked up, `null` for what is left open. */
import { catalog, findMaterial, nearestMaterial } from "../materials/catalog.ts";
import type { MaterialEntry, Spread, SpreadOverT } from "../materials/entry.ts";
import { unitOutline } from "../shape/section-form.ts";
import { stationThickness } from "../shape/station-outline.ts";
import type { Problem } from "../units/problem.ts";
import { usualColor } from "./color-depth.ts";
import type { Leaf } from "./defaults.ts";
import { mastersOfBait } from "./masters.ts";
import type { TypedJob } from "./schema.ts";
import type { Bait, Evening, Form, Job, Mix, Plate, Pour, Station, Swim } from "./types.ts";
import { evenBody } from "./with-body.ts";

type Lookup = (name: string) => MaterialEntry | undefined;

/** The catalog, and before it the materials that the job brings along. */
export function materialLookup(own: TypedJob["materials"]): Lookup {
  const mine = new Map<string, MaterialEntry>();
  for (const given of own ?? []) {
    const base = mine.get(given.like) ?? findMaterial(given.like);
    if (base) mine.set(given.name, withOwnValues(base, given));
  }
  return (name) => mine.get(name) ?? findMaterial(name);
}

type OwnMaterial = NonNullable<TypedJob["materials"]>[number];

function withOwnValues(base: MaterialEntry, own: OwnMaterial): MaterialEntry {
  const measured = (value: number): Spread => ({
    value,
    low: value * (1 - own.spread),
    high: value * (1 + own.spread),
    source: "job file",
  });
  // the base's shape over temperature is kept: one value measured at room temperature moves the whole curve
  const moved = (property: SpreadOverT, value: number | undefined): SpreadOverT =>
    value === undefined
      ? property
      : {
          ...measured(value),
          ...(property.at !== undefined && { at: property.at }),
          ...(property.shape && { shape: property.shape }),
        };
  const exactly = (value: number, width: number): Spread => ({
    value,
    low: value - width,
    high: value + width,
    source: "job file",
  });
  return {
    ...base,
    name: own.name,
    aliases: [],
    conductivity: moved(base.conductivity, own.conductivity),
    density: moved(base.density, own.density),
    specificHeat: moved(base.specificHeat, own.specificHeat),
    ...(own.wallLimit !== undefined && { wallLimit: exactly(own.wallLimit, 5) }),
    ...(base.plastisol &&
      own.setTemperature !== undefined && {
        plastisol: { ...base.plastisol, setTemperature: exactly(own.setTemperature, 3) },
      }),
    ...(base.resin &&
      own.heatOfReaction !== undefined && {
        resin: { ...base.resin, heatOfReaction: measured(own.heatOfReaction) },
      }),
  };
}

/** Materials that do not exist, or do not belong where they are named. */
export function materialProblems(leaves: readonly Leaf[], lookup: Lookup): Problem[] {
  const problems: Problem[] = [];
  for (const { path, given, meta } of leaves) {
    if (meta.kind !== "material" || typeof given !== "string") continue;
    const found = lookup(given.trim());
    const families = meta.families ?? [];
    const fitting = catalog.filter((e) => families.length === 0 || families.includes(e.family));
    const possible = fitting.map((entry) => entry.name);
    if (!found) {
      const suggestion = nearestMaterial(given, fitting);
      problems.push({
        code: "unknown_material",
        path,
        given: given.slice(0, 60),
        possible,
        ...(suggestion !== undefined && { suggestion }),
      });
    } else if (families.length > 0 && !families.includes(found.family)) {
      problems.push({ code: "wrong_material", path, given, possible });
    }
  }
  return problems;
}

/** Over three to one it cools like a sheet. */
const FLAT_FROM = 3;

function assembleBait(bait: TypedJob["bait"], defaults: string[]): Bait {
  const { stations = [], outline, length } = bait;
  const measured: Station[] = stations.map((s, i) => ({
    name: s.name ?? (stations.length === 1 ? "body" : `station ${i + 1}`),
    at: s.at ?? (length * (i + 0.5)) / stations.length,
    width: s.width,
    height: s.height,
    ...formOf(s),
    ...(s.rise !== undefined && { rise: s.rise }),
  }));
  if (measured.length === 0 && outline) {
    const [x, y] = [0, 1].map((axis) => outline.map((point) => point[axis]));
    const [width, height] = [x, y].map((along) => Math.max(...along) - Math.min(...along));
    measured.push({ name: "body", at: length / 2, width, height, form: bait.form });
  }
  if (measured.length === 0) {
    const { form, width } = bait;
    if (width === undefined && form === "flat") defaults.push("bait.width");
    measured.push(evenBody({ thickness: bait.thickness!, form, width }, length));
  }
  measured.sort((a, b) => a.at - b.at);
  const thin = measured.map(stationThickness);
  const thickest = thin.indexOf(Math.max(...thin));
  // one outline for the whole bait is that of its fattest section
  if (outline && !measured[thickest].outline)
    measured[thickest] = { ...measured[thickest], outline };
  const fattest = measured[thickest];
  if (stations.length > 0) removeFrom(defaults, "bait.form");
  const form: Form = stations.length > 0 ? fattest.form : bait.form;
  return {
    thickness: bait.thickness ?? stationThickness(fattest),
    form,
    length,
    stations: measured,
    even: stations.length > 0 || outline ? null : { width: bait.width ?? null },
  };
}

/** How a station is taken in one dimension, and the outline that its form or its drawing gives it. */
function formOf({
  form,
  width,
  height,
  outline,
}: NonNullable<TypedJob["bait"]["stations"]>[number]): Pick<Station, "form" | "outline"> {
  const flat = Math.max(width, height) > FLAT_FROM * Math.min(width, height);
  const drawn = outline ?? (form === "lens" ? unitOutline("lens", height / width) : undefined);
  return {
    form: form === "round" || form === "flat" ? form : flat ? "flat" : "round",
    ...(drawn && { outline: drawn }),
  };
}

function removeFrom(list: string[], item: string): void {
  const i = list.indexOf(item);
  if (i >= 0) list.splice(i, 1);
}

type Entry = (name: string) => MaterialEntry;

function plateOf(p: NonNullable<TypedJob["pour"]["plate"]>, entry: Entry): Plate {
  return {
    material: entry(p.material),
    thickness: p.thickness,
    distance: p.distance,
    width: p.width ?? null,
    contact: p.contact,
  };
}

/** What is settled only when other keys are known. */
function settlingWith(entry: Entry, defaults: string[]) {
  return {
    entry,
    /** A key without a default of its own. */
    open<T>(path: string, given: T | undefined, otherwise: T): T {
      if (given === undefined) defaults.push(path);
      return given ?? otherwise;
    },
    isDefault: (path: string): boolean => defaults.includes(path),
    /** What follows from another key is no default. */
    settled: (path: string): void => removeFrom(defaults, path),
    /** A default gives way where it would not fit what was typed. */
    giving: (path: string, value: number, most: number): number =>
      defaults.includes(path) ? Math.min(value, most) : value,
  };
}

/** Which size of a weighed pour was left out, and follows from its mass. */
function openSize({ mass }: TypedJob["pour"], settle: ReturnType<typeof settlingWith>) {
  if (mass === undefined) return null;
  if (settle.isDefault("pour.depth")) {
    settle.settled("pour.depth");
    return "depth";
  }
  const sides = ["pour.box.length", "pour.box.width"];
  if (!sides.every(settle.isDefault)) return null;
  sides.forEach(settle.settled);
  return "box";
}

function assemblePour(
  pour: TypedJob["pour"],
  bait: Bait,
  settle: ReturnType<typeof settlingWith>,
): Omit<Pour, "described"> {
  const { entry } = settle;
  // a time of the sheet says how fast the hardener is: no word for it is asked for
  if (pour.potLife || pour.thinFilm) settle.settled("pour.hardener");
  const master = entry(pour.masters.material);
  const own = mastersOfBait(bait, pour.depth);
  return {
    material: entry(pour.material),
    depth: pour.depth,
    mass: pour.mass ?? null,
    fromMass: openSize(pour, settle),
    box: { ...pour.box, material: entry(pour.box.material) },
    clay: { ...pour.clay, material: entry(pour.clay.material) },
    masters: {
      ...pour.masters,
      ofBait:
        pour.masters.width === undefined &&
        pour.masters.height === undefined &&
        settle.isDefault("pour.masters.length"),
      width: settle.open("pour.masters.width", pour.masters.width, own.width),
      height: settle.open("pour.masters.height", pour.masters.height, own.height),
      material: master,
      softens: settle.open(
        "pour.masters.softens",
        pour.masters.softens,
        master.wallLimit?.value ?? 333.15,
      ),
    },
    bench: { ...pour.bench, material: entry(pour.bench.material) },
    stock: pour.stock,
    stockOfRoom: settle.isDefault("pour.stock"),
    potLife: pour.potLife ?? null,
    thinFilm: pour.thinFilm ?? null,
    peakExotherm: pour.peakExotherm ?? null,
    hardener: pour.hardener,
    fillerMassShare: pour.filler ?? null,
    granules: pour.granules,
    layers: pour.layers ?? null,
    postCure: pour.postCure ?? [],
    age: pour.age ?? null,
    plate: pour.plate ? plateOf(pour.plate, entry) : null,
  };
}

function assembleMix(mix: TypedJob["mix"], entry: Entry): Mix {
  return {
    scale: mix.scale,
    plastic: mix.plastic,
    pours: (mix.pours ?? []).map(({ by, ratio, ...one }) => ({
      name: one.name,
      material: entry(one.material),
      volume: one.volume ?? null,
      box: one.box ?? null,
      less: one.less,
      ratio: { ...ratio, by },
      densityA: one.densityA ?? null,
      densityB: one.densityB ?? null,
      waste: one.waste,
      tolerance: one.tolerance,
    })),
  };
}

/**
 * The job, once nothing is wrong with the file. `defaults` gains the paths that are settled here.
 *
 * @param isPoured whether the file describes a pour
 */
export function assembleJob(
  typed: TypedJob,
  lookup: Lookup,
  defaults: string[],
  isPoured: boolean,
): Job {
  const entry: Entry = (name) => lookup(name)!;
  const settle = settlingWith(entry, defaults);
  const { room, mold, shot, layer, run, cup, pour, sprue, mix, shrink, limits, uncertainty } =
    typed;
  const bait = assembleBait(typed.bait, defaults);
  return {
    name: typed.name,
    room,
    bait,
    mold: {
      ...mold,
      material: entry(mold.material),
      length: settle.open("mold.length", mold.length, bait.length + 2 * mold.wall),
      back: mold.back ? { ...plateOf(mold.back, entry), water: mold.back.water ?? null } : null,
      inserts: (mold.inserts ?? []).map((insert) => plateOf(insert, entry)),
    },
    shot: { ...shot, material: entry(shot.material) },
    layer: {
      ...layer,
      depth: settle.giving("layer.depth", layer.depth, usualColor(layer.form, bait.thickness)),
      second: { ...layer.second, material: entry(layer.second.material) },
      more: (layer.more ?? []).map((next) => ({ ...next, material: entry(next.material) })),
    },
    run: { ...run, timer: run.timer ?? null, preheat: run.preheat ?? null },
    cup: { heats: cup.heats ?? [], yellowed: cup.yellowed ?? null, mass: cup.mass },
    pour: { ...assemblePour(pour, bait, settle), described: isPoured },
    sprue: {
      ...sprue,
      gate: {
        ...sprue.gate,
        widthOfSprue: settle.isDefault("sprue.gate.width"),
        heightOfSprue: settle.isDefault("sprue.gate.height"),
      },
      hold: sprue.hold ?? null,
    },
    mix: assembleMix(mix, entry),
    swim: swimOf(typed.swim, bait.length, defaults),
    plan: { ...typed.plan, start: typed.plan.start ?? null, prices: pricesOf(typed.plan.prices) },
    shrink: {
      steps: (shrink.steps ?? usualChain(defaults)).map((step) => ({
        name: step.name ?? step.material,
        material: entry(step.material),
        shrinkage: step.shrinkage ?? null,
        curedAt: step.curedAt ?? null,
      })),
    },
    limits: {
      demold: limits.demold,
      peak: limits.peak,
      wall: limits.wall ?? null,
      stiff: limits.stiff,
      set: limits.set ?? null,
      bond: limits.bond ?? null,
      fill: limits.fill ?? null,
    },
    uncertainty: {
      thickness: uncertainty.thickness,
      shotTemperature: uncertainty.shot,
      moldTemperature: uncertainty.mold,
      roomTemperature: uncertainty.room,
      time: uncertainty.time,
      materials: uncertainty.materials,
    },
    fitted: (typed.fitted ?? []).map(({ name, deviates }) => ({ name, ...deviates })),
    deviates: {},
  };
}

/** Hook and weights sit in the middle where nothing else is said. */
function swimOf(swim: TypedJob["swim"], length: number, defaults: string[]): Swim {
  const placed = <T extends { readonly at?: number | undefined }>(one: T, path: string) => {
    if (one.at === undefined) defaults.push(`${path}.at`);
    return { ...one, at: one.at ?? length / 2 };
  };
  const { hook, otherHooks = [], weights = [] } = swim;
  return {
    ...swim,
    hook: hook ? { ...placed(hook, "swim.hook"), gap: hook.gap ?? null } : null,
    otherHooks,
    weights: weights.map((weight, i) => placed(weight, `swim.weights[${i}]`)),
  };
}

function pricesOf(prices: TypedJob["plan"]["prices"]): Evening["prices"] {
  const { plastic, extras, labor, mold, moldShots } = prices;
  return {
    plastic: plastic ?? null,
    extras: extras ?? null,
    labor: labor ?? null,
    mold: mold ?? null,
    moldShots,
  };
}

/** From the sculpted master to the bait, as most shops work. */
function usualChain(defaults: string[]): NonNullable<TypedJob["shrink"]["steps"]> {
  defaults.push("shrink.steps");
  return ["polymer clay", "tin silicone", "filled epoxy", "soft plastisol"].map((material) => ({
    material,
  }));
}
