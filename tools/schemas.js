// Writes schemas/: what `castclock schema` prints, as files that an editor and the example jobs can name.
import { execFileSync } from "node:child_process";
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { execPath } from "node:process";
import { root } from "./build.js";

mkdirSync(join(root, "schemas"), { recursive: true });
for (const name of ["job", "problem", "page"])
  writeFileSync(
    join(root, "schemas", `${name}.schema.json`),
    execFileSync(execPath, [join(root, "bin/castclock.js"), "schema", name]),
  );
