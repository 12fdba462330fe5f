import vm from "node:vm";
import { type OpenJob, readDials } from "../../../../src/notebook/dials/dials.ts";
import { readPage } from "../../../../src/notebook/page/page.ts";
import { dialValues, makeProgram } from "../../../../src/notebook/run/program.ts";
import { buildPrelude } from "../../../../tools/vite-plugins.ts";

interface Setting {
  /** The job at which its dials stand where the page does not set them. */
  readonly open?: OpenJob;
  readonly quick?: boolean;
}

/** A page's program in a realm of its own, as a worker holds it: run again and again with other dials. */
export async function openRealm(text: string) {
  const page = readPage(text);
  if (page.problems.length > 0) throw new Error(JSON.stringify(page.problems));
  const program = await makeProgram(page, await buildPrelude("shop"));
  if ("problem" in program) throw new Error(JSON.stringify(program.problem));
  const messages: { kind: string }[] = [];
  const context = vm.createContext(
    Object.assign(Object.create(null), { tellHost: (m: { kind: string }) => messages.push(m) }),
    { codeGeneration: { strings: false, wasm: false } },
  );
  const run = vm.runInContext(program.script, context, { filename: "page.js" }) as (
    request: object,
  ) => void;
  let number = 0;
  return {
    /** The last message of a run with the dials of another text of the same program, as bytes. */
    run(withText = text, job: unknown = null, { open, quick = false }: Setting = {}): string {
      messages.length = 0;
      const dials = dialValues(readDials(readPage(withText), open).readings);
      run({ run: ++number, dials, job: structuredClone(job), quick });
      const {
        kind,
        run: _,
        milliseconds: __,
        ...said
      } = messages.at(-1) as Record<string, unknown>;
      if (kind !== "end") throw new Error(`the run ended with ${String(kind)}`);
      return JSON.stringify(said, (_key, value: unknown) =>
        ArrayBuffer.isView(value) ? [...(value as Float64Array)] : value,
      );
    },
  };
}
