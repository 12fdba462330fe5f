/** Job files that can't be used, and what must be said about each: place, what was given, what is possible, a hint. */
export interface BadJob {
  readonly name: string;
  readonly text: string;
  /** One entry for each problem: pieces that its line must hold. */
  readonly says: readonly (readonly string[])[];
}

const bait = "bait: { thickness: 16 mm }";
const stations = (n: number) =>
  `bait:\n  stations:\n${Array.from({ length: n }, (_, i) => `    - { at: ${i % 100} mm, width: 15 mm, height: 18 mm }`).join("\n")}`;

export const badJobs: readonly BadJob[] = [
  { name: "empty file", text: "", says: [["is empty", "bait: { thickness: 16 mm }"]] },
  { name: "no text", text: "\0\u0001bait", says: [["no text file"]] },
  {
    name: "two documents",
    text: "bait: { thickness: 16 mm }\n---\nbait: { thickness: 18 mm }",
    says: [["line 2", "several jobs"]],
  },
  { name: "a quote left open", text: 'name: "Minnow\nbait: 3', says: [["line", "not closed"]] },
  { name: "only a list", text: "- 16 mm\n- 20 mm", says: [["no job file"]] },
  { name: "only a word", text: "hello", says: [["no job file"]] },
  { name: "not YAML", text: "bait: { thickness: 16 mm\nmold: 3", says: [["line", "not closed"]] },
  {
    name: "tabs for indent",
    text: "bait:\n\tthickness: 16 mm",
    says: [["line 2", "tab", "spaces"]],
  },
  { name: "same key twice", text: `${bait}\n${bait}`, says: [["line 2", "bait", "twice"]] },
  {
    name: "anchors",
    text: "a: &x { thickness: 16 mm }\nbait: *x",
    says: [
      ["line 1", "Anchors"],
      ["line 2", "aliases"],
    ],
  },
  {
    name: "no bait at all",
    text: "room: { temperature: 20 degC }",
    says: [["bait.thickness", "missing", "16 mm"]],
  },
  {
    name: "thickness left empty",
    text: "bait: { thickness: }",
    says: [["bait.thickness", "no value"]],
  },
  {
    name: "bare number",
    text: "bait: { thickness: 16 }",
    says: [["bait.thickness", "16 has no unit", "16 mm"]],
  },
  { name: "NaN", text: "bait: { thickness: .nan }", says: [["bait.thickness", "NaN"]] },
  {
    name: "NaN as text",
    text: 'bait: { thickness: "NaN mm" }',
    says: [["bait.thickness", "NaN mm"]],
  },
  { name: "infinite", text: "bait: { thickness: .inf }", says: [["bait.thickness", "Infinity"]] },
  {
    name: "yes for a length",
    text: "bait: { thickness: true }",
    says: [["bait.thickness", "true", "5 mm"]],
  },
  {
    name: "list for a length",
    text: "bait: { thickness: [16 mm] }",
    says: [["bait.thickness", "One value"]],
  },
  {
    name: "negative thickness",
    text: "bait: { thickness: -16 mm }",
    says: [["bait.thickness", "-16 mm", "1 mm to 80 mm"]],
  },
  {
    name: "zero thickness",
    text: "bait: { thickness: 0 mm }",
    says: [["bait.thickness", "0 mm", "1 mm to 80 mm"]],
  },
  {
    name: "inches typed as mm",
    text: "bait: { thickness: 5/8 mm }",
    says: [["bait.thickness", "5/8 mm", "1 mm to 80 mm", "Did you mean 5/8 in?"]],
  },
  {
    name: "mm typed as inches",
    text: "bait: { thickness: 16 in }",
    says: [["bait.thickness", "16 in", "0.03937 in to 3.15 in", "Did you mean 16 mm?"]],
  },
  {
    name: "weight for a length",
    text: "bait: { thickness: 16 g }",
    says: [["bait.thickness", "16 g", "another kind", "mm"]],
  },
  {
    name: "unknown unit",
    text: "bait: { thickness: 16 fingers }",
    says: [["bait.thickness", "16 fingers", "not known", "mm"]],
  },
  {
    name: "doubtful comma",
    text: 'bait: { thickness: 16 mm, length: "1,100 mm" }',
    says: [["bait.length", "1,100 mm", "1.100 mm or 1100 mm"]],
  },
  {
    name: "decimal comma in braces",
    text: `${bait}\nmold: { wall: 20,5 mm }`,
    says: [
      ["mold", "5 mm", "quotes"],
      ["mold.wall", "20", "20 mm"],
    ],
  },
  {
    name: "350 degC plastisol",
    text: `${bait}\nshot: { temperature: 350 degC }`,
    says: [["shot.temperature", "350 degC", "130 degC to 205 degC", "Did you mean 350 degF?"]],
  },
  {
    name: "170 degF plastisol",
    text: `${bait}\nshot: { temperature: 170 degF }`,
    says: [["shot.temperature", "170 degF", "266 degF to 401 degF", "Did you mean 170 degC?"]],
  },
  {
    name: "colder than nothing",
    text: `${bait}\nroom: { temperature: -300 degC }`,
    says: [["room.temperature", "-300 degC", "-15 degC to 50 degC"]],
  },
  {
    name: "room in Fahrenheit, typed as Celsius",
    text: `${bait}\nroom: { temperature: 68 degC }`,
    says: [["room.temperature", "68 degC", "Did you mean 68 degF?"]],
  },
  {
    name: "mold hotter than the shot",
    text: `${bait}\nshot: { temperature: 135 degC }\nmold: { temperature: 118 degC }`,
    says: [["mold.temperature", "118 degC", "115 degC or less"]],
  },
  {
    name: "mold at shot heat",
    text: `${bait}\nmold: { temperature: 170 degC }`,
    says: [["mold.temperature", "170 degC", "-15 degC to 120 degC", "170 degF"]],
  },
  {
    name: "unknown top key",
    text: `${bait}\nmould: { wall: 20 mm }`,
    says: [["mould", "not known", "Did you mean mold?"]],
  },
  {
    name: "unknown inner key",
    text: "bait: { thicknes: 16 mm }",
    says: [
      ["bait.thicknes", "Did you mean thickness?"],
      ["bait.thickness", "missing"],
    ],
  },
  {
    name: "key for another room",
    text: `${bait}\nshot: { wall: 20 mm }`,
    says: [["shot.wall", "not known", "material, temperature, fill"]],
  },
  {
    name: "prototype key",
    text: `${bait}\n__proto__: { polluted: yes }`,
    says: [["__proto__", "not known"]],
  },
  {
    name: "material that does not exist",
    text: `${bait}\nmold: { material: alumnum }`,
    says: [["mold.material", "alumnum", "Did you mean aluminum 6061?"]],
  },
  {
    name: "mold of water",
    text: `${bait}\nmold: { material: water }`,
    says: [["mold.material", "water", "does not belong", "filled epoxy"]],
  },
  {
    name: "shot of epoxy",
    text: `${bait}\nshot: { material: filled epoxy }`,
    says: [["shot.material", "filled epoxy", "soft plastisol"]],
  },
  {
    name: "material as a number",
    text: `${bait}\nmold: { material: 7 }`,
    says: [["mold.material", "7", "no name"]],
  },
  {
    name: "10 000 stations",
    text: stations(10_000),
    says: [["bait.stations", "10000", "1 to 200"]],
  },
  {
    name: "no station in the list",
    text: "bait: { stations: [] }",
    says: [["bait.stations", "0", "1 to 200"]],
  },
  {
    name: "stations as a word",
    text: "bait: { stations: many }",
    says: [["bait.stations", "A list"]],
  },
  {
    name: "station past the end",
    text: "bait: { length: 100 mm, stations: [{ at: 140 mm, width: 15 mm, height: 18 mm }] }",
    says: [["bait.stations[0].at", "140 mm", "100 mm or less"]],
  },
  {
    name: "station without height",
    text: "bait: { stations: [{ at: 40 mm, width: 15 mm }] }",
    says: [["bait.stations[0].height", "missing"]],
  },
  {
    name: "station that is a number",
    text: "bait: { stations: [16] }",
    says: [["bait.stations[0]", "group of keys", "16"]],
  },
  {
    name: "two stations of one name",
    text: "bait: { stations: [{ name: a, width: 9 mm, height: 9 mm }, { name: a, width: 8 mm, height: 8 mm }] }",
    says: [["bait.stations[1].name", '"a"', "twice"]],
  },
  {
    name: "thickness against stations",
    text: "bait: { thickness: 30 mm, stations: [{ width: 15 mm, height: 18 mm }] }",
    says: [["bait.thickness", "30 mm", "15 mm"]],
  },
  {
    name: "outline of two points",
    text: "bait: { outline: [[0 mm, 0 mm], [5 mm, 0 mm]] }",
    says: [["bait.outline", "2", "3 to 500"]],
  },
  {
    name: "outline that crosses itself",
    text: "bait: { outline: [[0 mm, 0 mm], [8 mm, 8 mm], [8 mm, 0 mm], [0 mm, 8 mm]] }",
    says: [["bait.outline", "crosses", "(4 mm, 4 mm)"]],
  },
  {
    name: "outline without area, once NaN in a layer",
    text: "bait: { outline: [[0 mm, 0 mm], [8 mm, 0 mm], [4 mm, 0 mm]] }",
    says: [["bait.outline", "encloses nothing", "(0 mm, 0 mm)"]],
  },
  {
    name: "outline of a station that crosses itself, in inches",
    text: "bait: { stations: [{ width: 1 in, height: 1 in, outline: [[0 in, 0 in], [1 in, 1 in], [1 in, 0 in], [0 in, 1 in]] }] }",
    says: [["bait.stations[0].outline", "crosses", "(0.5 in, 0.5 in)"]],
  },
  {
    name: "two stations at one place",
    text: "bait: { length: 90 mm, stations: [{ at: 30 mm, width: 9 mm, height: 9 mm }, { at: 3 cm, width: 8 mm, height: 9 mm }] }",
    says: [["bait.stations[1].at", "3 cm", "already"]],
  },
  {
    name: "outline point without height",
    text: "bait: { outline: [[0 mm], [5 mm, 0 mm], [0 mm, 5 mm]] }",
    says: [["bait.outline[0]", "two lengths"]],
  },
  {
    name: "layer deeper than the bait",
    text: `${bait}\nlayer: { depth: 20 mm }`,
    says: [["layer.depth", "20 mm", "16 mm or less"]],
  },
  {
    name: "skin that leaves nothing within it",
    text: `${bait}\nlayer: { form: skin, depth: 12 mm }`,
    // 16 mm without a twentieth, from both faces
    says: [["layer.depth", "12 mm", "7.6 mm or less", "thinner"]],
  },
  {
    name: "skin of half the bait, beside another fault",
    text: `${bait}\nroom: { temperature: 35 degC }\nlimits: { demold: 30 degC }\nlayer: { form: skin, depth: 0.8 cm }`,
    says: [
      ["layer.depth", "0.8 cm", "0.76 cm or less"],
      ["limits.demold", "37 degC or more"],
    ],
  },
  {
    name: "further colors deeper than what the first leaves",
    text: `${bait}\nlayer: { depth: 4 mm, more: [{ depth: 6 mm }, { depth: 7 mm }] }`,
    says: [["layer.more[1].depth", "7 mm", "6 mm or less", "thinner"]],
  },
  {
    name: "further color deeper than what a skin leaves",
    text: `${bait}\nlayer: { form: skin, depth: 4 mm, more: [{ depth: 6 mm }] }`,
    says: [["layer.more[0].depth", "6 mm", "3.6 mm or less"]],
  },
  {
    name: "opened where the plastic still flows, as the job says or its catalog",
    text: `${bait}\nlimits: { demold: 110 degC, set: 80 degC }`,
    says: [["limits.demold", "110 degC", "80 degC or less"]],
  },
  {
    name: "limit colder than the room",
    text: `${bait}\nroom: { temperature: 35 degC }\nlimits: { demold: 30 degC }`,
    says: [["limits.demold", "30 degC", "37 degC or more"]],
  },
  {
    name: "half a shot",
    text: `${bait}\nrun: { shots: 2.5 }`,
    says: [["run.shots", "2.5", "whole", "1 to 500"]],
  },
  { name: "no shots", text: `${bait}\nrun: { shots: 0 }`, says: [["run.shots", "0", "1 to 500"]] },
  {
    name: "minutes as meters",
    text: `${bait}\nrun: { open: 2 m }`,
    says: [["run.open", "2 m", "meters", "Did you mean 2 min?"]],
  },
  {
    name: "unknown air",
    text: `${bait}\nroom: { air: windy }`,
    says: [["room.air", "windy", "still, fan, bath"]],
  },
  {
    name: "share without percent",
    text: `${bait}\npour: { filler: 0.6 }`,
    says: [["pour.filler", "0.6", "no unit"]],
  },
  {
    name: "ounces for a volume",
    text: `${bait}\nmix: { pours: [{ volume: 3 oz }] }`,
    says: [["mix.pours[0].volume", "3 oz", "weight", "Did you mean 3 fl oz?"]],
  },
  {
    name: "volume for a weight",
    text: `${bait}\npour: { mass: 300 ml }`,
    says: [["pour.mass", "300 ml", "volume", "g"]],
  },
  {
    name: "ratio of one number",
    text: `${bait}\nmix: { pours: [{ volume: 90 ml, ratio: 10 }] }`,
    says: [["mix.pours[0].ratio", "10", "100:18"]],
  },
  {
    name: "masters taken from a volume",
    text: `${bait}\nmix: { pours: [{ volume: 240 ml, less: 35 ml }] }`,
    says: [["mix.pours[0].less", "35 ml", "box instead of the volume"]],
  },
  {
    name: "absurd pot life",
    text: `${bait}\npour: { potLife: { time: 25 s, mass: 100 g } }`,
    says: [["pour.potLife.time", "25 s", "30 s to", "Did you mean 25 min?"]],
  },
  {
    name: "masters taller than the pour",
    text: `${bait}\npour: { depth: 10 mm, masters: { height: 14 mm } }`,
    says: [["pour.masters.height", "14 mm", "9 mm or less"]],
  },
  {
    name: "very long name",
    text: `name: ${"x".repeat(500)}\n${bait}`,
    says: [["name", "too long", "120 characters"]],
  },
  {
    name: "a group where a value belongs",
    text: `${bait}\nmold: { wall: { thick: 20 mm } }`,
    says: [["mold.wall", "One value"]],
  },
  {
    name: "a value where a group belongs",
    text: `${bait}\nmold: 20 mm`,
    says: [["mold", "group of keys", "20 mm"]],
  },
  {
    name: "six mistakes at once",
    text: "bait: { thickness: 16, length: 1 km }\nmold: { material: brasss, wall: -3 mm }\nshot: { temperature: 350 degC }\nrun: { shots: -1 }",
    says: [
      ["bait.thickness", "16 mm"],
      ["bait.length", "1 km"],
      ["mold.material", "brass"],
      ["mold.wall", "-3 mm"],
      ["shot.temperature", "350 degF"],
      ["run.shots", "-1"],
    ],
  },
  {
    name: "brackets without end",
    text: `bait: ${"[".repeat(20_000)}`,
    says: [["nested too deep"]],
  },
];
