/** What keeps the code readable: short functions, short signatures, and no export that nobody imports. */
import { readdirSync, readFileSync } from "node:fs";
import { join, posix, relative } from "node:path";
import { fileURLToPath } from "node:url";
import ts from "typescript";
import { expect, test } from "vitest";

const root = fileURLToPath(new URL("..", import.meta.url));
const MOST_LINES = 80;
const MOST_PARAMETERS = 5;
/** Nested functions up to this long count with the one around them. */
const SHORT = 5;

function parsed(...folders: string[]): ts.SourceFile[] {
  return folders.flatMap((folder) =>
    readdirSync(join(root, folder), { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile() && /(?<!\.d)\.tsx?$/.test(entry.name))
      .map((entry) => relative(root, join(entry.parentPath, entry.name)))
      .map((file) =>
        ts.createSourceFile(
          file,
          readFileSync(join(root, file), "utf8"),
          ts.ScriptTarget.Latest,
          true,
        ),
      ),
  );
}

type Written =
  | ts.FunctionDeclaration
  | ts.FunctionExpression
  | ts.ArrowFunction
  | ts.MethodDeclaration;

const isWritten = (node: ts.Node): node is Written =>
  (ts.isFunctionDeclaration(node) && node.body !== undefined) ||
  ts.isFunctionExpression(node) ||
  ts.isArrowFunction(node) ||
  ts.isMethodDeclaration(node);

function linesOf(node: ts.Node, file: ts.SourceFile): number {
  const line = (at: number) => file.getLineAndCharacterOfPosition(at).line;
  return line(node.end) - line(node.getStart()) + 1;
}

/** Lines of a function less those of the functions within it. */
function ownLines(written: Written, file: ts.SourceFile): number {
  let lines = linesOf(written, file);
  const leave = (node: ts.Node): void => {
    const nested = isWritten(node) ? linesOf(node, file) : 0;
    if (nested > SHORT) lines -= nested - 1;
    else ts.forEachChild(node, leave);
  };
  ts.forEachChild(written, leave);
  return lines;
}

function functionsOf(file: ts.SourceFile): { place: string; lines: number; parameters: number }[] {
  const found: { place: string; lines: number; parameters: number }[] = [];
  const visit = (node: ts.Node): void => {
    if (isWritten(node)) {
      const line = file.getLineAndCharacterOfPosition(node.getStart()).line + 1;
      const name = node.name?.getText() ?? "";
      found.push({
        place: `${file.fileName}:${line} ${name}`.trim(),
        lines: ownLines(node, file),
        parameters: node.parameters.length,
      });
    }
    ts.forEachChild(node, visit);
  };
  visit(file);
  return found;
}

const own = parsed("lib", "src");
const functions = own.flatMap(functionsOf);

test("no function has more than 80 lines of its own", () => {
  const long = functions.filter(({ lines }) => lines > MOST_LINES);
  expect(long.map(({ place, lines }) => `${place}: ${lines}`)).toEqual([]);
});

test("no signature has more than five parameters", () => {
  const wide = functions.filter(({ parameters }) => parameters > MOST_PARAMETERS);
  expect(wide.map(({ place, parameters }) => `${place}: ${parameters}`)).toEqual([]);
});

/** Names that a file takes from others, as `file#name`; `*` for a whole module. */
function takenBy(file: ts.SourceFile): string[] {
  const taken: string[] = [];
  const take = (specifier: ts.Node | undefined, names: readonly string[]) => {
    if (!specifier || !ts.isStringLiteral(specifier) || !specifier.text.startsWith(".")) return;
    const target = posix.join(posix.dirname(file.fileName), specifier.text);
    taken.push(...names.map((name) => `${target}#${name}`));
  };
  const visit = (node: ts.Node): void => {
    if (ts.isImportDeclaration(node)) {
      const bindings = node.importClause?.namedBindings;
      const names =
        bindings && ts.isNamedImports(bindings)
          ? bindings.elements.map((e) => (e.propertyName ?? e.name).text)
          : ["*"];
      take(node.moduleSpecifier, names);
    } else if (ts.isExportDeclaration(node) && node.exportClause) {
      if (ts.isNamedExports(node.exportClause))
        take(
          node.moduleSpecifier,
          node.exportClause.elements.map((e) => (e.propertyName ?? e.name).text),
        );
    } else if (ts.isCallExpression(node) && node.expression.kind === ts.SyntaxKind.ImportKeyword)
      take(node.arguments[0], ["*"]);
    else if (ts.isImportTypeNode(node) && ts.isLiteralTypeNode(node.argument))
      take(node.argument.literal, ["*"]);
    ts.forEachChild(node, visit);
  };
  visit(file);
  return taken;
}

function exportsOf(file: ts.SourceFile): string[] {
  return file.statements.flatMap((statement) => {
    const exported =
      ts.canHaveModifiers(statement) &&
      ts.getModifiers(statement)?.some((m) => m.kind === ts.SyntaxKind.ExportKeyword);
    if (!exported) return [];
    const names = ts.isVariableStatement(statement)
      ? statement.declarationList.declarations.map((d) => d.name.getText())
      : [(statement as ts.DeclarationStatement).name?.getText() ?? ""];
    return names.map((name) => `${file.fileName}#${name}`);
  });
}

/** What nobody imports but the build: it looks at these names itself. */
const FOR_THE_BUILD = new Set([
  "src/notebook/sandbox/prelude.ts#start",
  "src/cli/parts.ts#codeOfParts",
]);

/** Shown by example, and tried there: part of what the library tells of itself. */
function isShown(name: string): boolean {
  const [file, word] = name.split("#");
  const text = own.find(({ fileName }) => fileName === file)?.text ?? "";
  return new RegExp(`@example[^\\n]*\\b${word}\\b`).test(text);
}

test("nothing is exported that nobody imports", () => {
  const taken = new Set([...own, ...parsed("tests", "tools")].flatMap(takenBy));
  const idle = own.flatMap(exportsOf).filter((name) => {
    const whole = `${name.slice(0, name.indexOf("#"))}#*`;
    return !taken.has(name) && !taken.has(whole) && !FOR_THE_BUILD.has(name) && !isShown(name);
  });
  expect(idle).toEqual([]);
});

/** What only tests take: they are another way to the same, or the list that tests go through. */
const FOR_TESTS = new Set([
  "lib/confidence/shares.ts#sobolShares", // by sampling, what an answer reads off its surface
  "lib/proof/reference-run.ts#rowNames",
  "src/messages/all-problems.ts#problemCodes",
  "src/messages/page-problems.ts#runCodes",
  "src/notebook/sandbox/further-words.ts#furtherWords", // and the build
]);

/** How often a file writes a name outside of its comments. */
function written(name: string): number {
  const [fileName, word] = name.split("#");
  const file = own.find((one) => one.fileName === fileName)!;
  let count = 0;
  const visit = (node: ts.Node): void => {
    if (ts.isIdentifier(node) && node.text === word) count++;
    ts.forEachChild(node, visit);
  };
  visit(file);
  return count;
}

test("nothing is kept by its own tests alone", () => {
  const taken = new Set([...own, ...parsed("tools")].flatMap(takenBy));
  const kept = own.flatMap(exportsOf).filter((name) => {
    const whole = `${name.slice(0, name.indexOf("#"))}#*`;
    return !taken.has(name) && !taken.has(whole) && !FOR_THE_BUILD.has(name) && written(name) < 2;
  });
  expect(kept.filter((name) => !FOR_TESTS.has(name))).toEqual([]);
});
