// Names from outside (units, keys of tables, names of dials, keys of a job) may be those of inherited members. A plain
// object is looked up by such a name only behind an own-property check, or it is a Map.
import { readFileSync } from "node:fs";
import { dirname, join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import ts from "typescript";
import { expect, test } from "vitest";

const root = fileURLToPath(new URL("..", import.meta.url));

/** Looks at inherited members on purpose: it takes them away. */
const EXEMPT = "src/notebook/sandbox/lockdown.ts";

const INVENTED = join(root, "src/notebook/invented.ts");
const SAMPLE = `
export const bad = (units: Record<string, number>, name: string) => units[name];
export const cast = (units: { a: number }, name: string) => units[name as "a"];
export function good(units: Record<string, number>, name: string) {
  return Object.hasOwn(units, name) ? units[name] : 0;
}
export const list = (numbers: number[], i: number) => numbers[i];
`;

/** The sources and one more file, with their types. */
function sources(): ts.Program {
  const file = join(root, "src/tsconfig.json");
  const { config } = ts.readConfigFile(file, (path) => readFileSync(path, "utf8"));
  const { options, fileNames } = ts.parseJsonConfigFileContent(config, ts.sys, dirname(file));
  const host = ts.createCompilerHost(options);
  const getSourceFile = host.getSourceFile.bind(host);
  host.getSourceFile = (path, language) =>
    path === INVENTED
      ? ts.createSourceFile(path, SAMPLE, language, true)
      : getSourceFile(path, language);
  const wanted = fileNames.filter((name) => /src\/(?:notebook|ui)\//.test(name));
  const more = { noEmit: true, composite: false, incremental: false };
  return ts.createProgram([...wanted, INVENTED], { ...options, ...more }, host);
}

/** Look-ups by a text of any content that no own-property check stands before. */
function unguarded(program: ts.Program): string[] {
  const checker = program.getTypeChecker();
  const found: string[] = [];
  for (const source of program.getSourceFiles()) {
    const name = relative(root, source.fileName);
    if (!/^src\/(?:notebook|ui)\//.test(name) || name === EXEMPT) continue;
    const visit = (node: ts.Node): void => {
      if (ts.isElementAccessExpression(node) && isForeign(node, checker) && !isGuarded(node)) {
        const { line } = source.getLineAndCharacterOfPosition(node.getStart());
        found.push(`${name}:${line + 1} ${node.getText()}`);
      }
      ts.forEachChild(node, visit);
    };
    visit(source);
  }
  return found;
}

/** An object read by a text that may be any: no literal, no union of literals, no number. */
function isForeign(node: ts.ElementAccessExpression, checker: ts.TypeChecker): boolean {
  // a cast says nothing of what stands there
  const { argumentExpression: asked } = node;
  const key = checker.getTypeAtLocation(ts.isAsExpression(asked) ? asked.expression : asked);
  const parts = key.isUnion() ? key.types : [key];
  if (!parts.some((type) => type.flags & (ts.TypeFlags.String | ts.TypeFlags.Any))) return false;
  const { parent } = node;
  const isWritten =
    ts.isBinaryExpression(parent) &&
    parent.left === node &&
    parent.operatorToken.kind === ts.SyntaxKind.EqualsToken;
  return !isWritten;
}

/** Within reach of the look-up: own keys are asked for, or walked through. */
const GUARD = /Object\.(?:hasOwn|keys|entries|values|create\(null\))|Reflect\.ownKeys/;

function isGuarded(node: ts.Node): boolean {
  for (let at: ts.Node | undefined = node.parent; at; at = at.parent) {
    const isBody =
      ts.isFunctionDeclaration(at) || ts.isMethodDeclaration(at) || ts.isSourceFile(at.parent);
    if (isBody) return GUARD.test(at.getText());
  }
  return false;
}

test("no plain object is looked up by a foreign name without an own-property check", () => {
  const found = unguarded(sources());
  // the invented file shows that the check finds what it is for
  expect(found).toEqual([
    "src/notebook/invented.ts:2 units[name]",
    'src/notebook/invented.ts:3 units[name as "a"]',
  ]);
}, 120_000);
