import fc from "fast-check";
import { expect, test } from "vitest";
import { Shelf } from "../../../../src/notebook/shelf/shelf.ts";
import { shippedDocuments } from "../../../../src/notebook/shelf/shipped.ts";
import { MOST_IN_ALL, MOST_IN_ONE, withSpares } from "../../../../src/notebook/shelf/spare.ts";
import type { SparePlace } from "../../../../src/notebook/shelf/spare-place.ts";
import { fakeDatabase } from "./fake-store.ts";

const shipped = shippedDocuments({ page: [{ name: "first", text: "# First\n" }], job: [] });

/** The plain texts that a browser keeps for a site; `room` letters of them. */
function fakePlace(room = Number.POSITIVE_INFINITY) {
  const texts = new Map<string, string>();
  let broken = false;
  const used = () => [...texts].reduce((all, [key, text]) => all + key.length + text.length, 0);
  const may = () => {
    if (broken) throw new Error("forbidden");
  };
  const place: SparePlace = {
    get length() {
      may();
      return texts.size;
    },
    key: (index) => [...texts.keys()][index] ?? null,
    getItem(key) {
      may();
      return texts.get(key) ?? null;
    },
    setItem(key, text) {
      may();
      if (used() - (texts.get(key)?.length ?? -key.length) + text.length > room)
        throw new Error("the quota has been exceeded");
      texts.set(key, text);
    },
    removeItem(key) {
      may();
      texts.delete(key);
    },
  };
  return { place, texts, used, forbid: () => (broken = true) };
}

/** A machine whose browser may throw its databases away between two visits. */
function machine(room?: number) {
  const database = fakeDatabase();
  const spare = fakePlace(room);
  let now = 0;
  const told = { back: 0, notSpared: [] as string[] };
  const tab = async () => {
    const store = await withSpares(database.tab(), spare.place, {
      broughtBack: (count) => (told.back += count),
      notSpared: (kind, name) => told.notSpared.push(`${kind}:${name}`),
    });
    return new Shelf(store, { shipped, clock: () => ++now });
  };
  const settle = () => new Promise((done) => setTimeout(done));
  const stands = async (shelf: Shelf) =>
    (await shelf.list("page")).map(({ name, text }) => [name, text]);
  return { database, spare, told, tab, settle, stands };
}

test("what is on the shelf stands there again after the databases were thrown away, what was removed does not", async () => {
  const step = fc.record({
    tab: fc.nat(1),
    act: fc.constantFrom("save", "add", "remove", "rename", "reset", "undo", "back"),
    at: fc.nat(9),
    text: fc.string({ maxLength: 20 }),
  });
  await fc.assert(
    fc.asyncProperty(fc.array(step, { maxLength: 14 }), async (steps) => {
      const { database, told, tab, settle, stands } = machine();
      const tabs = [await tab(), await tab()];
      let undo: Awaited<ReturnType<Shelf["remove"]>> | undefined;
      for (const { tab: of, act, at, text } of steps) {
        const shelf = tabs[of]!;
        const list = await shelf.list("page");
        const entry = list[at % Math.max(1, list.length)];
        if (act === "add") await shelf.add("page", `own ${at % 3}`, text);
        if (act === "back") await shelf.bringBack("page", "first");
        if (act === "undo" && undo) await shelf.undo(undo);
        if (entry === undefined) continue;
        if (act === "save") await shelf.save("page", entry.name, text, entry.revision);
        if (act === "remove") undo = await shelf.remove("page", entry.name);
        if (act === "rename") await shelf.rename("page", entry.name, `own ${at}`);
        if (act === "reset") undo = await shelf.reset("page", entry.name);
      }
      await settle();
      const before = await stands(tabs[0]!);
      const kept = [...database.documents.values()].filter((d) => d.removed === undefined);
      database.documents.clear();
      const again = await Promise.all([tab(), tab()]);
      for (const shelf of again) expect(await stands(shelf)).toEqual(before);
      expect(told.back).toBe(kept.length);
    }),
    { seed: 5, numRuns: 200 },
  );
});

test("an older copy is never laid over a newer text, nor over a name that was taken again", async () => {
  const { database, spare, tab, settle, stands } = machine();
  const shelf = await tab();
  await shelf.add("page", "mine", "one");
  await settle();
  const old = new Map(spare.texts);
  await shelf.save("page", "mine", "two", 1);
  spare.texts.clear();
  for (const [key, text] of old) spare.texts.set(key, text);
  expect(await stands(await tab())).toContainEqual(["mine", "two"]);
  // and the copy follows
  await settle();
  expect([...spare.texts.values()].join()).toContain('"two"');

  await shelf.remove("page", "mine");
  const removed = new Map(spare.texts);
  database.documents.clear();
  spare.texts.clear();
  const later = await (await tab()).add("page", "mine", "another one");
  for (const [key, text] of removed) spare.texts.set(key, text);
  expect(later.revision).toBeLessThan(3);
  expect(await stands(await tab())).toContainEqual(["mine", "another one"]);
});

test("a state that the database lost comes back, of the same text and once", async () => {
  const { database, told, tab, stands } = machine();
  const shelf = await tab();
  await shelf.add("page", "mine", "one");
  const lost = new Map(database.documents);
  await shelf.save("page", "mine", "two", 1);
  database.documents.clear();
  for (const [key, document] of lost) database.documents.set(key, document);
  expect(await stands(await tab())).toContainEqual(["mine", "two"]);
  expect(told.back).toBe(0);
});

test("what is too large, or has no room any more, is kept all the same and told once", async () => {
  const { database, spare, told, tab, settle } = machine();
  const shelf = await tab();
  const small = await shelf.add("page", "large", "# small enough");
  await shelf.save("page", "large", "x".repeat(MOST_IN_ONE), small.revision);
  await shelf.save("page", "large", "y".repeat(MOST_IN_ONE), small.revision + 1);
  expect(told.notSpared).toEqual(["page:large"]);
  expect((await shelf.read("page", "large"))?.text).toMatch(/^y+$/);
  const most = Math.ceil(MOST_IN_ALL / (MOST_IN_ONE - 1000)) + 1;
  for (let i = 0; i < most; i++)
    await shelf.add("page", `many ${i}`, "z".repeat(MOST_IN_ONE - 1000));
  await settle();
  expect(spare.used()).toBeLessThan(MOST_IN_ALL + 100 * most);
  expect(told.notSpared.length).toBeGreaterThan(1);
  // the older copy is better than none
  database.documents.clear();
  expect((await (await tab()).read("page", "large"))?.text).toBe("# small enough");
});

test("storage that is full, forbidden or absent breaks nothing, and a removal stays one", async () => {
  const full = machine(600);
  const shelf = await full.tab();
  await shelf.add("page", "mine", "short");
  const entry = await shelf.add("page", "long", "x".repeat(700));
  expect(full.told.notSpared).toEqual(["page:long"]);
  expect((await shelf.read("page", "long"))?.text).toBe("x".repeat(700));
  await shelf.save("page", "long", "now short", entry.revision);
  await shelf.remove("page", "mine");
  full.database.documents.clear();
  expect(await full.stands(await full.tab())).toEqual([
    ["first", "# First\n"],
    ["long", "now short"],
  ]);

  const forbidden = machine();
  const before = await forbidden.tab();
  await before.add("page", "mine", "one");
  forbidden.spare.forbid();
  await before.add("page", "other", "two");
  await before.remove("page", "mine");
  expect(await forbidden.stands(await forbidden.tab())).toContainEqual(["other", "two"]);

  const database = fakeDatabase();
  const none = await withSpares(database.tab(), undefined, {
    broughtBack: () => undefined,
    notSpared: () => undefined,
  });
  await new Shelf(none, { shipped, clock: () => 1 }).add("page", "mine", "one");
  expect(database.documents.size).toBe(1);
});

test("copies that were damaged are left out", async () => {
  const { database, spare, tab, stands } = machine();
  const shelf = await tab();
  for (const name of ["one", "two", "three", "four"]) await shelf.add("page", name, name);
  const keys = [...spare.texts.keys()];
  const [one, two, three, four] = keys as [string, string, string, string];
  spare.texts.set(one, `${spare.texts.get(one)!.slice(0, 30)}`);
  spare.texts.set(two, "nonsense");
  spare.texts.set(three, spare.texts.get(four)!);
  database.documents.clear();
  expect(await stands(await tab())).toEqual([
    ["first", "# First\n"],
    ["four", "four"],
  ]);
});
