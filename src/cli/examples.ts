/** `castclock examples [NAME]`: the jobs that came with the command. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { nearest } from "../../lib/units/nearest.ts";
import { tableText } from "./table.ts";
import { Misuse } from "./words.ts";

// as deep in the sources as in the package
const FOLDER = join(import.meta.dirname, "../../data/jobs");

/** The list of them, or one as it stands. */
export function examplesText([name, ...more]: readonly string[]): string {
  const names = readdirSync(FOLDER)
    .filter((file) => file.endsWith(".yaml"))
    .map((file) => file.replace(/\.yaml$/, ""))
    .sort();
  const textOf = (one: string) => readFileSync(join(FOLDER, `${one}.yaml`), "utf8");
  if (more.length > 0) throw new Misuse("castclock examples [NAME]");
  if (name === undefined)
    return `${tableText(
      ["example", "is"],
      names.map((one) => [one, /^# ?(.*)/m.exec(textOf(one))?.[1] ?? ""]),
    ).join("\n")}\n`;
  if (!names.includes(name)) {
    const close = nearest(name, names);
    const meant = close === undefined ? "" : ` Did you mean ${close}?`;
    throw new Misuse(`There is no example "${name}".${meant} Possible: ${names.join(", ")}.`);
  }
  // an editor completes the keys by the schema, which is elsewhere for who starts from the example
  return textOf(name).replace("$schema=../../", "$schema=./node_modules/castclock/");
}
