/** Random heat problems for the property tests: small, but of every kind the engine takes. */
import fc from "fast-check";
import {
  type Boundary,
  type HeatProblem,
  type Material,
  makeTabulatedRateLaw,
  type Outline,
  type Shape,
  type Side,
  type Stage,
} from "../../../lib/index.ts";

const K = 273.15;
const celsius = (low: number, high: number) =>
  fc.integer({ min: low, max: high }).map((c) => c + K);
const log = (low: number, high: number) =>
  fc
    .double({ min: Math.log(low), max: Math.log(high), noNaN: true })
    .map((v) => Number(Math.exp(v).toPrecision(3)));

const material = fc
  .record({
    k: log(0.1, 200),
    rho: log(500, 8000),
    cp: log(400, 4000),
    slope: fc.constantFrom(0, 0, 2),
  })
  .map(({ k, rho, cp, slope }) => ({
    name: "m",
    conductivity: slope > 0 ? (T: number) => k * (1 + 0.0005 * (T - 300)) : k,
    density: rho,
    specificHeat: slope > 0 ? { T: [200, 600], value: [cp, cp + 400 * slope] } : cp,
  }));

const boundary: fc.Arbitrary<Boundary> = fc.oneof(
  fc.constant<Boundary>({ kind: "insulated" }),
  celsius(0, 80).map((temperature): Boundary => ({ kind: "held", temperature })),
  fc
    .record({ h: log(2, 2000), ambient: celsius(0, 60), emissivity: fc.constantFrom(0, 0.9) })
    .map((b): Boundary => ({ kind: "exchange", ...b })),
);

const boundaries: fc.Arbitrary<Partial<Record<Side, Boundary>>> = fc.record({
  left: boundary,
  right: boundary,
  top: boundary,
  bottom: boundary,
});

const contact = fc.option(log(50, 1e5), { nil: undefined });

/** 1-D: one to four layers. */
export const layered: fc.Arbitrary<HeatProblem> = fc
  .record({
    frame: fc.constantFrom("slab", "cylinder", "sphere" as const),
    materials: fc.array(material, { minLength: 2, maxLength: 3 }),
    layers: fc.array(
      fc.record({ thickness: log(5e-4, 0.05), initial: celsius(0, 200), which: fc.nat(), contact }),
      { minLength: 1, maxLength: 4 },
    ),
    boundary: boundaries,
    until: log(5, 3000),
  })
  .map(({ frame, materials, layers, boundary: b, until }): HeatProblem => {
    const width = layers.reduce((sum, l) => sum + l.thickness, 0);
    return {
      frame,
      materials: Object.fromEntries(materials.map((m, i) => [`m${i}`, m])),
      layers: layers.map((l, i) => ({
        name: `l${i}`,
        material: `m${l.which % materials.length}`,
        thickness: l.thickness,
        initial: l.initial,
        ...(l.contact ? { contact: l.contact } : {}),
      })),
      boundary: { ...(frame === "slab" ? { left: b.left } : {}), right: b.right } as Partial<
        Record<Side, Boundary>
      >,
      stages: [{ until }],
      probes: {
        middle: { kind: "point", x: width / 2 },
        hottest: { kind: "hottest", region: "l0" },
      },
      times: [until / 10, until / 2, until],
      tolerance: 1e-3,
    };
  });

const outline = (w: number, h: number): fc.Arbitrary<Outline> => {
  const share = fc.double({ min: 0.25, max: 0.75, noNaN: true });
  const size = fc.double({ min: 0.1, max: 0.4, noNaN: true });
  return fc
    .record({
      x: share,
      y: share,
      a: size,
      b: size,
      kind: fc.nat(2),
      turn: fc.double({ min: 0, max: 3, noNaN: true }),
    })
    .map(({ x, y, a, b, kind, turn }): Outline => {
      const center = [x * w, y * h] as const;
      if (kind === 0) return { kind: "ellipse", axes: [a * w, b * h], center };
      if (kind === 1) return { kind: "rectangle", size: [a * w, b * h], center };
      const r = 0.2 * Math.min(a * w, b * h) + 0.2 * Math.min(w, h);
      const points = Array.from({ length: 5 }, (_, i) => {
        const angle = turn + (i * 2 * Math.PI) / 5;
        return [center[0] + r * Math.cos(angle), center[1] + r * Math.sin(angle)] as const;
      });
      return { kind: "polygon", points };
    });
};

/** 2-D: up to three shapes in a block, perhaps with one that is absent for a while and comes back hot. */
export const sectioned: fc.Arbitrary<HeatProblem> = fc
  .record({ w: log(0.01, 0.1), h: log(0.01, 0.1) })
  .chain(({ w, h }) =>
    fc.record({
      w: fc.constant(w),
      h: fc.constant(h),
      frame: fc.constantFrom("section", "section", "round" as const),
      materials: fc.array(material, { minLength: 2, maxLength: 3 }),
      start: celsius(0, 60),
      shapes: fc.array(
        fc.record({ outline: outline(w, h), initial: celsius(0, 200), which: fc.nat(), contact }),
        { maxLength: 3 },
      ),
      boundary: boundaries,
      ends: fc.boolean(),
      until: log(5, 1000),
      opens: fc.boolean(),
    }),
  )
  .map((p): HeatProblem => {
    const shapes = p.shapes.map(
      (s, i): Shape => ({
        name: `s${i}`,
        outline: s.outline,
        material: `m${s.which % p.materials.length}`,
        initial: s.initial,
        ...(s.contact ? { contact: s.contact } : {}),
      }),
    );
    const { left: _axis, ...others } = p.boundary;
    const stages: Stage[] =
      p.opens && shapes.length > 0
        ? [
            { until: p.until / 3 },
            {
              until: (2 * p.until) / 3,
              absent: ["s0"],
              exposed: { kind: "exchange", h: 12, ambient: 20 + K },
            },
            { until: p.until, refill: [{ name: "s0", temperature: 170 + K }] },
          ]
        : [{ until: p.until }];
    return {
      frame: p.frame,
      materials: Object.fromEntries(p.materials.map((m, i) => [`m${i}`, m])),
      block: { width: p.w, height: p.h, material: "m0", initial: p.start },
      shapes,
      boundary: p.frame === "round" ? others : p.boundary,
      ...(p.ends && p.frame === "section" ? { ends: { length: 0.1, h: 12, ambient: 20 + K } } : {}),
      stages,
      probes: {
        middle: { kind: "point", x: p.w / 2, y: p.h / 2 },
        corner: { kind: "point", x: 0.9 * p.w, y: 0.1 * p.h },
        mean: { kind: "mean", region: "block" },
      },
      times: [p.until / 10, p.until / 2, p.until],
      tolerance: 1e-3,
      resolution: 0.7,
    };
  });

/** Highest and lowest temperature that a problem names, K. */
export function hullOf(problem: HeatProblem): [number, number] {
  const all: number[] = [];
  const see = (b: Boundary | undefined) => {
    if (b?.kind === "held" && typeof b.temperature === "number") all.push(b.temperature);
    if (b?.kind === "exchange" && typeof b.ambient === "number") all.push(b.ambient);
  };
  if (problem.block) all.push(problem.block.initial);
  for (const part of [...(problem.layers ?? []), ...(problem.shapes ?? [])]) all.push(part.initial);
  Object.values(problem.boundary).forEach(see);
  if (problem.ends) all.push(problem.ends.ambient);
  for (const s of problem.stages) {
    see(s.exposed);
    for (const r of s.refill ?? []) all.push(r.temperature);
  }
  return [Math.min(...all), Math.max(...all)];
}

/** The same problem seen in a mirror along x (not for frames with an axis). */
export function mirrored(problem: HeatProblem): HeatProblem {
  const width = problem.block?.width ?? (problem.layers ?? []).reduce((s, l) => s + l.thickness, 0);
  const flip = (o: Outline): Outline =>
    o.kind === "polygon"
      ? { ...o, points: o.points.map(([x, y]) => [width - x, y] as const) }
      : { ...o, center: [width - o.center[0], o.center[1]] };
  const layers = problem.layers;
  const { left, right, ...others } = problem.boundary;
  return {
    ...problem,
    ...(layers
      ? {
          layers: layers
            .map((l, i) => {
              const { contact: _own, ...rest } = l;
              const c = i > 0 ? layers[i - 1].contact : undefined;
              return { ...rest, ...(c ? { contact: c } : {}) };
            })
            .reverse(),
        }
      : {}),
    ...(problem.shapes
      ? { shapes: problem.shapes.map((s) => ({ ...s, outline: flip(s.outline) })) }
      : {}),
    boundary: { ...others, ...(right ? { left: right } : {}), ...(left ? { right: left } : {}) },
    probes: Object.fromEntries(
      Object.entries(problem.probes).map(([k, p]) => [
        k,
        p.kind === "point" ? { ...p, x: width - p.x } : p,
      ]),
    ),
  };
}

/** A resin whose cure speeds itself up, or not; tame to fierce. */
const resin: fc.Arbitrary<Material> = fc
  .record({
    k: log(0.15, 1.2),
    cp: log(900, 2000),
    heat: log(4e4, 3e5),
    faster: log(0.3, 3),
    first: fc.boolean(),
  })
  .map(({ k, cp, heat, faster, first }) => ({
    name: "resin",
    conductivity: k,
    density: 1500,
    specificHeat: cp,
    cure: {
      law: makeTabulatedRateLaw(
        first
          ? { law: "nth-order", A: faster * 2e6, E: 6e4, n: 1.5 }
          : {
              law: "autocatalytic",
              A1: faster * 1e4,
              E1: 55e3,
              A2: faster * 8.28e5,
              E2: 5e4,
              m: 0.8,
              n: 1.4,
            },
      ),
      heat,
      initial: 0,
    },
  }));

/** Resin beside a wall, or in a box around or within something that does not cure. */
export const curing: fc.Arbitrary<HeatProblem> = fc
  .record({
    resin,
    wall: material,
    thickness: log(0.005, 0.05),
    height: fc.option(log(0.02, 0.06), { nil: undefined }),
    start: celsius(18, 45),
    warm: celsius(15, 80),
    boundary: boundaries,
    inner: outline(0.05, 0.05),
    isResinInside: fc.boolean(),
    until: log(600, 20_000),
  })
  .map((p): HeatProblem => {
    const materials = { r: p.resin, w: p.wall };
    const times = [p.until / 4, p.until / 2, p.until];
    const common = {
      materials,
      boundary: p.boundary,
      stages: [{ until: p.until }],
      times,
      tolerance: 1e-3,
    };
    if (p.height === undefined)
      return {
        ...common,
        frame: "slab",
        layers: [
          { name: "l0", material: "r", thickness: p.thickness, initial: p.start, contact: 500 },
          { name: "l1", material: "w", thickness: 0.02, initial: p.warm },
        ],
        probes: {
          middle: { kind: "point", x: p.thickness / 2 },
          hottest: { kind: "hottest", region: "l0" },
        },
      };
    const [outer, inner] = p.isResinInside ? ["w", "r"] : ["r", "w"];
    return {
      ...common,
      frame: "section",
      block: {
        width: 0.05,
        height: 0.05,
        material: outer,
        initial: p.isResinInside ? p.warm : p.start,
      },
      shapes: [
        {
          name: "s0",
          outline: p.inner,
          material: inner,
          initial: p.isResinInside ? p.start : p.warm,
        },
      ],
      probes: {
        middle: { kind: "point", x: 0.025, y: 0.025 },
        mean: { kind: "mean", region: "block" },
      },
      resolution: 0.7,
    };
  });
