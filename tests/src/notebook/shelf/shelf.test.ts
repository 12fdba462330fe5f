import fc from "fast-check";
import { strToU8, zipSync } from "fflate";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { archiveShelf, importFile, restoreShelf } from "../../../../src/notebook/shelf/archive.ts";
import { type DraftNews, KEEP_WITHIN_MS } from "../../../../src/notebook/shelf/draft.ts";
import { isName, nameFrom } from "../../../../src/notebook/shelf/names.ts";
import { Shelf } from "../../../../src/notebook/shelf/shelf.ts";
import { shippedDocuments } from "../../../../src/notebook/shelf/shipped.ts";
import { fakeDatabase } from "./fake-store.ts";

const shipped = shippedDocuments(
  {
    page: [{ name: "first", text: "# First\n" }],
    job: [{ name: "thick", text: "bait: { thickness: 25 mm }\n" }],
  },
  { page: async () => [{ name: "demold", text: "# Demold\n" }] },
);
let now = 1000;
const clock = () => ++now;

function shelves() {
  const database = fakeDatabase();
  const tab = () => new Shelf(database.tab(), { shipped, clock });
  return { database, tab };
}

beforeEach(() => {
  now = 1000;
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

const settle = () => vi.advanceTimersByTimeAsync(KEEP_WITHIN_MS * 4);

test("what is at hand is read and kept while the texts of the others are still on their way", async () => {
  const never = new Promise<never>(() => undefined);
  const atHand = { page: [{ name: "first", text: "# First\n" }], job: [] };
  const shelf = new Shelf(fakeDatabase().tab(), {
    shipped: shippedDocuments(atHand, { page: () => never }),
    clock,
  });
  expect((await shelf.read("page", "first"))?.text).toBe("# First\n");
  expect(await shelf.list("job")).toEqual([]);
  expect(await shelf.save("page", "first", "# Mine\n", 0)).toMatchObject({ kept: "as" });
  expect((await shelf.read("page", "first"))?.text).toBe("# Mine\n");
});

test("shipped pages stand there untouched, in their order; own ones follow", async () => {
  const shelf = shelves().tab();
  await shelf.add("page", "zeta", "z");
  await shelf.add("page", "alpha", "a");
  const list = await shelf.list("page");
  expect(list.map((e) => [e.name, e.shipped, e.own, e.revision])).toEqual([
    ["first", true, false, 0],
    ["demold", true, false, 0],
    ["alpha", false, true, 1],
    ["zeta", false, true, 1],
  ]);
});

test("what is typed is kept within the promised time, however fast the keys come", async () => {
  const { database, tab } = shelves();
  const draft = await tab().open("page", "first");
  let typed = "";
  for (let key = 0; key < 40; key++) {
    typed += "x";
    draft?.change(typed);
    await vi.advanceTimersByTimeAsync(20);
    const kept = database.documents.get("page:first")?.text ?? "";
    // never more than the time to keep and one key behind
    expect(typed.length - kept.length).toBeLessThanOrEqual(KEEP_WITHIN_MS / 20 + 1);
  }
  await draft?.flush();
  expect(database.documents.get("page:first")?.text).toBe(typed);
  expect(draft?.isKept).toBe(true);
});

test("flush keeps at once what waits: nothing is lost when the page is hidden", async () => {
  const { database, tab } = shelves();
  const shelf = tab();
  const draft = await shelf.open("page", "first");
  draft?.change("typed just now");
  expect(database.documents.size).toBe(0);
  await shelf.flush();
  expect(database.documents.get("page:first")?.text).toBe("typed just now");
});

test("two tabs: the later edit of an old text is kept as a second version, with notice", async () => {
  const { database, tab } = shelves();
  const [one, two] = [tab(), tab()];
  const a = await one.open("page", "first");
  const b = await two.open("page", "first");
  const news: DraftNews[] = [];
  b?.subscribe((n) => news.push(n));
  a?.change("by tab one");
  b?.change("by tab two");
  await a?.flush();
  await b?.flush();
  expect(database.documents.get("page:first")?.text).toBe("by tab one");
  expect(news).toEqual([{ kind: "second", name: "first second version", before: "first" }]);
  expect((await two.read("page", "first second version"))?.text).toBe("by tab two");
  // typing goes on in the second version
  b?.change("by tab two, more");
  await b?.flush();
  expect(database.documents.get("page:first")?.text).toBe("by tab one");
  expect(database.documents.get("page:first second version")?.text).toBe("by tab two, more");
});

test("two tabs: one that has nothing waiting takes over what the other wrote", async () => {
  const { tab } = shelves();
  const a = await tab().open("page", "first");
  const b = await tab().open("page", "first");
  const news: DraftNews[] = [];
  b?.subscribe((n) => news.push(n));
  a?.change("by tab one");
  await a?.flush();
  await settle();
  expect(news).toEqual([{ kind: "elsewhere", text: "by tab one" }]);
  b?.change("by tab one, and two");
  await b?.flush();
  await settle();
  expect(a?.text).toBe("by tab one, and two");
});

test("whatever two tabs type in whatever order, no text that a tab was left with is lost", async () => {
  const step = fc.record({
    tab: fc.nat(1),
    what: fc.constantFrom("type", "type", "type", "flush", "wait"),
  });
  await fc.assert(
    fc.asyncProperty(fc.array(step, { maxLength: 25 }), async (steps) => {
      const { database, tab } = shelves();
      const drafts = await Promise.all([tab(), tab()].map((s) => s.open("page", "first")));
      let count = 0;
      for (const { tab: which, what } of steps) {
        const draft = drafts[which];
        if (what === "type") draft?.change(`${draft.text.split("|")[0]}|${which}:${count++}`);
        else if (what === "flush") await draft?.flush();
        else await vi.advanceTimersByTimeAsync(60);
      }
      await Promise.all(drafts.map((d) => d?.flush()));
      const kept = [...database.documents.values()].map((d) => d.text);
      for (const draft of drafts) {
        if (draft && draft.text !== "# First\n") expect(kept).toContain(draft.text);
      }
      for (const d of drafts) await d?.close();
    }),
    { seed: 3, numRuns: 200 },
  );
});

test("a failed write is said, and tried again with the next key", async () => {
  const { database, tab } = shelves();
  const draft = await tab().open("page", "first");
  const news: DraftNews[] = [];
  draft?.subscribe((n) => news.push(n));
  database.fail(true);
  draft?.change("lost?");
  await settle();
  expect(news).toEqual([{ kind: "failed", why: "the disk is full" }]);
  expect(draft?.isKept).toBe(false);
  database.fail(false);
  draft?.change("lost? no");
  await settle();
  expect(database.documents.get("page:first")?.text).toBe("lost? no");
});

test("duplicate, rename, remove with undo, reset with undo", async () => {
  const { tab } = shelves();
  const shelf = tab();
  const copy = await shelf.duplicate("page", "first");
  expect(copy).toMatchObject({ name: "first copy", text: "# First\n", shipped: false });
  expect((await shelf.duplicate("page", "first"))?.name).toBe("first copy 2");

  expect(await shelf.rename("page", "first copy", "demold")).toBeUndefined();
  expect(await shelf.rename("page", "first copy", "a/b")).toBeUndefined();
  expect((await shelf.rename("page", "first copy", "mine"))?.text).toBe("# First\n");
  expect(await shelf.read("page", "first copy")).toBeUndefined();

  const undo = await shelf.remove("page", "mine");
  expect(await shelf.read("page", "mine")).toBeUndefined();
  await shelf.undo(undo);
  expect((await shelf.read("page", "mine"))?.text).toBe("# First\n");

  const entry = await shelf.read("page", "first");
  await shelf.save("page", "first", "changed", entry?.revision ?? -1);
  expect(await shelf.read("page", "first")).toMatchObject({ text: "changed", own: true });
  const back = await shelf.reset("page", "first");
  expect(await shelf.read("page", "first")).toMatchObject({ text: "# First\n", own: false });
  await shelf.undo(back);
  expect((await shelf.read("page", "first"))?.text).toBe("changed");

  const gone = await shelf.remove("page", "demold");
  expect((await shelf.list("page")).map((e) => e.name)).not.toContain("demold");
  await shelf.undo(gone);
  expect((await shelf.read("page", "demold"))?.text).toBe("# Demold\n");
});

test("a name can be had back: after a renaming, after a removal, of a shipped sheet", async () => {
  const { tab } = shelves();
  const shelf = tab();
  expect((await shelf.rename("page", "first", "mine"))?.text).toBe("# First\n");
  const mine = await shelf.read("page", "mine");
  await shelf.save("page", "mine", "typed", mine?.revision ?? -1);
  expect((await shelf.rename("page", "mine", "first"))?.text).toBe("typed");
  expect(await shelf.read("page", "mine")).toBeUndefined();
  expect(await shelf.read("page", "first")).toMatchObject({ text: "typed", shipped: true });
  await shelf.add("page", "a", "one");
  await shelf.rename("page", "a", "b");
  expect((await shelf.rename("page", "b", "a"))?.text).toBe("one");
  await shelf.remove("page", "first");
  expect((await shelf.removed("page")).map((p) => p.name)).toEqual(["first"]);
  await shelf.bringBack("page", "first");
  expect((await shelf.read("page", "first"))?.text).toBe("# First\n");
});

test("what was typed after a reset is not overwritten by its undo", async () => {
  const { tab } = shelves();
  const shelf = tab();
  await shelf.save("page", "first", "before", 0);
  const undo = await shelf.reset("page", "first");
  const now = await shelf.read("page", "first");
  await shelf.save("page", "first", "typed later", now?.revision ?? -1);
  const name = await shelf.undo(undo);
  expect(name).toBe("first earlier version");
  expect((await shelf.read("page", name))?.text).toBe("before");
  expect((await shelf.read("page", "first"))?.text).toBe("typed later");
});

test("a tab that still has the text from before a reset does not bring it back unasked", async () => {
  const { tab } = shelves();
  const [one, two] = [tab(), tab()];
  const b = await two.open("page", "first");
  b?.change("changed");
  await b?.flush();
  b?.change("changed, and typing");
  await one.reset("page", "first");
  await b?.flush();
  expect((await one.read("page", "first"))?.text).toBe("# First\n");
  expect((await one.read("page", "first second version"))?.text).toBe("changed, and typing");
});

test("what was removed is forgotten after a month, not before", async () => {
  const { database, tab } = shelves();
  const shelf = tab();
  await shelf.add("page", "mine", "m");
  await shelf.remove("page", "mine");
  await shelf.tidy();
  expect(database.documents.size).toBe(1);
  now += 31 * 24 * 3600 * 1000;
  await shelf.tidy();
  expect(database.documents.size).toBe(0);
});

test("an archive brings the whole shelf to another place, and overwrites nothing there", async () => {
  const from = shelves().tab();
  await from.add("page", "Ünïcode (2)", "# Ü\n");
  await from.save("page", "first", "changed", 0);
  const bytes = await archiveShelf(from, { "log.json": "[]" });
  expect(await archiveShelf(from, { "log.json": "[]" })).toEqual(bytes);

  const to = shelves().tab();
  await to.add("page", "Ünïcode (2)", "another");
  const restored = await restoreShelf(to, bytes);
  expect(restored).toEqual({
    added: [],
    same: ["demold", "thick"],
    second: ["first 2", "Ünïcode (2) 2"],
    refused: [],
    more: { "log.json": "[]" },
  });
  expect((await to.read("page", "Ünïcode (2)"))?.text).toBe("another");
  expect((await to.read("page", "first 2"))?.text).toBe("changed");
});

test("an archive with strange paths or huge files does no harm", async () => {
  const shelf = shelves().tab();
  const bytes = zipSync({
    "../pages/evil.md": strToU8("x"),
    "pages/../../evil.md": strToU8("x"),
    "pages/huge.md": strToU8("x".repeat(3_000_000)),
    "pages/long.md": strToU8("x".repeat(600_000)),
    "pages/<script>.md": strToU8("# fine\n"),
    "readme.txt": strToU8("x"),
  });
  const restored = await restoreShelf(shelf, bytes);
  expect(restored.added).toEqual(["script"]);
  expect([...restored.refused].sort()).toEqual([
    "../pages/evil.md",
    "pages/../../evil.md",
    "pages/huge.md",
    "pages/long.md",
    "readme.txt",
  ]);
  await expect(restoreShelf(shelf, strToU8("not a zip"))).rejects.toThrow();
});

test("files are put on the shelf by their ending", async () => {
  const shelf = shelves().tab();
  expect(await importFile(shelf, "My page.md", "# P\n")).toMatchObject({
    kind: "page",
    name: "My page",
  });
  expect(await importFile(shelf, "thick.yaml", "x: 1")).toMatchObject({
    kind: "job",
    name: "thick 2",
  });
  expect(await importFile(shelf, "picture.png", "x")).toBeUndefined();
});

test("names", () => {
  expect(isName("Dune minnow, two-tone (2)")).toBe(true);
  for (const bad of ["", " a", "a/b", "..", "a<b", "a\nb", "x".repeat(81), "a."]) {
    expect(isName(bad)).toBe(false);
  }
  fc.assert(
    fc.property(fc.string(), (text) => {
      expect(isName(nameFrom(text))).toBe(true);
    }),
    { seed: 4 },
  );
});
