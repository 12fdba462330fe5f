import { expect, test } from "vitest";
import { svgFiles } from "../../../../src/cli/svg.ts";
import { wholeSteps } from "../../../../src/notebook/outputs/figure-frame.ts";
import {
  checkOutput,
  type FigureOutput,
  type Output,
} from "../../../../src/notebook/outputs/output.ts";

const drawnOf = (shown: Output) =>
  svgFiles([{ name: "f", figure: shown as FigureOutput }], "metric")[0]?.text;

function figure(more: object, marks: object[]): Output {
  const check = checkOutput({
    kind: "figure",
    caption: "Temperatures: center & skin",
    x: { label: "Time", unit: "s" },
    y: { label: "Temperature", unit: "degC" },
    marks,
    ...more,
  });
  if (!check.ok) throw new Error(JSON.stringify(check.problems));
  return check.output;
}

const center = {
  mark: "line",
  data: { t: [0, 100, 200, 300], T: new Float64Array([443.15, 400, 350, 328.15]) },
  x: "t",
  y: "T",
  stroke: "warm",
  label: "center",
};

test("a figure is drawn to SVG with its axes in metric units and its line's name", () => {
  const drawn = drawnOf(figure({}, [center]));
  expect(drawn).toMatch(/^<svg[^>]*xmlns="http:\/\/www.w3.org\/2000\/svg"/);
  for (const words of ["Time (min)", "Temperature (\u00b0C)", ">center<", "#b3401a"]) {
    expect(drawn).toContain(words);
  }
  // whole minutes, and 170 degC at the top of the scale
  expect(drawn).toMatch(/>5</);
  expect(drawn).toMatch(/>160</);
  expect(drawn).not.toContain("NaN");
});

test("around the lines stand a printed rule, dotted leaders and a title block, nothing that the plot library draws", () => {
  const drawn = drawnOf(figure({}, [center])) ?? "";
  expect(drawn).not.toMatch(/aria-label="[xy]-(axis|grid)/);
  const frame = drawn.match(/<g class="frame">.*?<\/g>/s)?.[0] ?? "";
  expect(frame.match(/stroke-dasharray="0 7"/g)?.length).toBeGreaterThanOrEqual(3);
  expect(frame).toContain(">up<");
  expect(frame).toContain(">across<");
  expect(frame).toMatch(/<rect/);
});

test("the title block keeps within the figure however long its words are", () => {
  const long = { x: { label: "Time after the second shot, as the timer of the bench counts it" } };
  const drawn = drawnOf(figure(long, [center])) ?? "";
  const box = drawn.match(/<rect [^>]*>/)?.[0].match(/ width="([\d.]+)"/);
  expect(Number(box?.[1])).toBeLessThanOrEqual(720);
});

test("figures along a way are whole steps within its ends", () => {
  expect(wholeSteps(66, 338, 6)).toEqual([100, 150, 200, 250, 300]);
  expect(wholeSteps(0, 0.6, 6)).toEqual([0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6]);
  expect(wholeSteps(5, 5, 6)).toEqual([5]);
});

test("rows and columns draw the same line", () => {
  const rows = {
    ...center,
    data: [0, 1, 2, 3].map((i) => ({ t: center.data.t[i], T: center.data.T[i] })),
  };
  const a = drawnOf(figure({}, [center]));
  const b = drawnOf(figure({}, [rows]));
  expect(a).toBe(b);
});

test("every mark is drawn", () => {
  const marks = [
    {
      mark: "area",
      data: [
        { t: 0, a: 300, b: 310 },
        { t: 9, a: 300, b: 320 },
      ],
      x: "t",
      y1: "a",
      y2: "b",
      fill: "cool",
      fillOpacity: 0.2,
    },
    { mark: "dot", data: [{ t: 3, T: 305 }], x: "t", y: "T", symbol: "diamond", r: 5 },
    { mark: "rule-x", data: [{ t: 4 }], x: "t", stroke: "quiet" },
    { mark: "rule-y", data: [], y: 303.15, stroke: "caution", strokeDasharray: "4 3" },
    { mark: "tick-x", data: [{ t: 5 }], x: "t" },
    { mark: "rect", data: [{ a: 1, b: 2 }], x1: "a", x2: "b", y1: 300, y2: 310, fill: "good" },
    { mark: "text", data: [{ t: 4, T: 308, w: "here" }], x: "t", y: "T", text: "w", dx: 4 },
  ];
  const drawn = drawnOf(figure({}, marks));
  for (const element of ["<path", "<line", "<rect", ">here<", "stroke-dasharray"]) {
    expect(drawn).toContain(element);
  }
  const bars = [
    {
      mark: "bar-x",
      data: [
        { n: "one", v: 3 },
        { n: "two", v: 5 },
      ],
      x: "v",
      y: "n",
      fill: "accent",
    },
  ];
  const barred = drawnOf(figure({ x: { label: "Pieces" }, y: { label: "", type: "band" } }, bars));
  expect(barred).toContain("two");
});

test.each([
  ["a script address", { fill: "url(javascript:alert(1))" }],
  ["a style", { stroke: "red;background:url(x)" }],
  ["an address as color", { stroke: "http://a.b/c" }],
  ["a link", { href: "https://example.org" }],
  ["a tip", { tip: true }],
  ["a class", { className: "x" }],
  ["a render function's name", { render: "x" }],
  ["an image mark", { mark: "image" }],
  ["a geo mark", { mark: "geo" }],
  ["columns of different length", { data: { t: [1, 2], T: [1] } }],
  ["numbers that are none", { data: [{ t: Number.NaN, T: 1 }] }],
  ["infinite numbers", { data: { t: new Float64Array([Number.POSITIVE_INFINITY]), T: [1] } }],
  ["a date", { data: [{ t: new Date(0), T: 1 }] }],
  ["nested data", { data: [{ t: { a: 1 }, T: 1 }] }],
])("%s is refused", (_, change) => {
  const given = {
    kind: "figure",
    caption: "c",
    x: { label: "x" },
    y: { label: "y" },
    marks: [{ mark: "line", data: [{ t: 1, T: 1 }], x: "t", y: "T", ...change }],
  };
  expect(checkOutput(given).ok).toBe(false);
});

test("words that look like markup are drawn as words", () => {
  const drawn = drawnOf(
    figure({ caption: "<img src=x>" }, [{ ...center, label: "<script>x</script>" }]),
  );
  expect(drawn).not.toContain("<script");
  expect(drawn).toContain("&lt;script&gt;");
});

test("__proto__ and the like are no way in", () => {
  const evil = JSON.parse('{"kind":"note","text":"a","tone":"info","__proto__":{"kind":"figure"}}');
  expect(checkOutput(evil).ok).toBe(false);
  const row = JSON.parse('{"__proto__":{"x":1},"constructor":2}');
  const table = { kind: "table", caption: "", columns: [{ key: "x", label: "x" }], rows: [row] };
  const check = checkOutput(table);
  if (check.ok && check.output.kind === "table") {
    const [read] = check.output.rows;
    expect(Object.getPrototypeOf(read)).toBe(Object.prototype);
    expect(read?.["x"]).toBeUndefined();
  }
  expect(({} as Record<string, unknown>)["x"]).toBeUndefined();
});

test("bands that are named by numbers stand in the order of the numbers", () => {
  const molds = Array.from({ length: 12 }, (_, k) => String(k + 1));
  const bars = [
    {
      mark: "bar-x",
      data: { from: molds.map(() => 0), to: molds.map(() => 60), mold: molds },
      x1: "from",
      x2: "to",
      y: "mold",
    },
  ];
  const drawn = drawnOf(figure({ y: { label: "Mold", type: "band" } }, bars)) ?? "";
  const frame = drawn.match(/<g class="frame">.*?<\/g>/s)?.[0] ?? "";
  const named = [...frame.matchAll(/ y="([-\d.]+)"[^>]*>(\d+)</g)]
    .filter(([, , name]) => molds.includes(name!))
    .map(([, at, name]) => ({ at: Number(at), name: name! }));
  const rows = named.filter(({ name }, i) => named.findIndex((one) => one.name === name) === i);
  const downwards = rows.sort((a, b) => a.at - b.at).map(({ name }) => name);
  expect(downwards).toEqual(molds);
});
