/** The shelf's database with spare copies, and what is said of them. */
import { withSpares } from "../../notebook/shelf/spare.ts";
import type { SparePlace } from "../../notebook/shelf/spare-place.ts";
import type { DocumentKind, ShelfStore } from "../../notebook/shelf/store.ts";
import { notices } from "../reading/notices.ts";

const spareNotices = {
  broughtBack(count: number) {
    const what = count === 1 ? "one sheet or job" : `${count} sheets and jobs`;
    notices.value = {
      ...notices.value,
      shelf: `This browser had lost its databases: ${what} came back from the spare copies. What was typed in the last minutes before may be missing.`,
    };
  },
  notSpared(kind: DocumentKind, name: string) {
    const what = kind === "page" ? "sheet" : "job";
    notices.value = {
      ...notices.value,
      shelf: `The ${what} \u201c${name}\u201d is kept, but too large for a spare copy: were this browser to lose its databases, it would be gone. Save it to a file now and then.`,
    };
  },
};

export const spared = (database: ShelfStore, place: SparePlace | undefined): Promise<ShelfStore> =>
  withSpares(database, place, spareNotices);
