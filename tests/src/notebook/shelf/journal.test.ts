import fc from "fast-check";
import { expect, test } from "vitest";
import type { Journal, Typed } from "../../../../src/notebook/shelf/journal.ts";
import { Shelf } from "../../../../src/notebook/shelf/shelf.ts";
import { shippedDocuments } from "../../../../src/notebook/shelf/shipped.ts";
import { fakeDatabase } from "./fake-store.ts";

const shipped = shippedDocuments({ page: [{ name: "first", text: "# First\n" }], job: [] });

/** Visits to one machine's database and journal. A visit that is cut off hears nothing more and writes nothing more. */
function machine() {
  const database = fakeDatabase();
  const notes = new Map<string, Typed>();
  const visit = () => {
    let over = false;
    const store = database.tab();
    const whileHere = <T>(made: Promise<T>) =>
      made.then((value) => (over ? new Promise<T>(() => undefined) : value));
    const journal: Journal = {
      note(kind, name, typed) {
        if (over) return;
        if (typed) notes.set(`${kind}:${name}`, typed);
        else notes.delete(`${kind}:${name}`);
      },
      read: async (kind, name) => notes.get(`${kind}:${name}`),
    };
    const shelf = new Shelf(
      {
        ...store,
        change: (kind, name, change) =>
          whileHere(store.change(kind, name, (now) => (over ? now : change(now)))),
      },
      { shipped, clock: () => 1, journal },
    );
    return { shelf, cutOff: () => (over = true) };
  };
  return { database, visit };
}

const turns = async (count: number) => {
  for (let turn = 0; turn < count; turn++) await Promise.resolve();
};

test("a visit cut off at any moment leaves all that was typed, and no second version", async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.array(fc.record({ write: fc.boolean(), turns: fc.nat(12) }), {
        minLength: 1,
        maxLength: 12,
      }),
      async (keys) => {
        const { database, visit } = machine();
        const first = visit();
        const draft = await first.shelf.open("page", "first");
        let text = "# First\n";
        for (const key of keys) {
          text += "k";
          draft!.change(text);
          if (key.write) void draft!.flush();
          await turns(key.turns);
        }
        first.cutOff();
        const again = await visit().shelf.open("page", "first");
        expect(again?.text).toBe(text);
        expect([...database.documents.keys()]).toEqual(["page:first"]);
      },
    ),
  );
});

test("what was typed is not laid over what another tab kept after it", async () => {
  const { database, visit } = machine();
  const first = visit();
  (await first.shelf.open("page", "first"))!.change("mine");
  first.cutOff();
  await visit().shelf.save("page", "first", "theirs", 0);
  const again = await visit().shelf.open("page", "first");
  expect(again?.text).toBe("theirs");
  expect([...database.documents.values()].map((d) => d.text).toSorted()).toEqual([
    "mine",
    "theirs",
  ]);
});
