/**
 * A formula typed as text, such as `1500 + 2.5*T`, compiled to a function of one variable.
 *
 * The text is parsed by mathjs, and the tree is then allowed node by node: numbers, the one variable, arithmetic
 * and a list of functions. No assignment, no access to properties, no other name: nothing else can run.
 */
import { create, type MathNode, parseDependencies } from "mathjs";
import { InputError, type Problem } from "./problem.ts";

type Evaluate = (x: number) => number;

const FUNCTIONS: Readonly<Record<string, (...of: number[]) => number>> = {
  abs: Math.abs,
  sqrt: Math.sqrt,
  exp: Math.exp,
  log: Math.log,
  log10: Math.log10,
  sin: Math.sin,
  cos: Math.cos,
  tan: Math.tan,
  tanh: Math.tanh,
  min: Math.min,
  max: Math.max,
  floor: Math.floor,
  ceil: Math.ceil,
  round: Math.round,
  sign: Math.sign,
};
/** How many arguments each takes; min and max take any number from one. */
const ANY_NUMBER = new Set(["min", "max"]);

const OPERATORS: Readonly<Record<string, (a: number, b: number) => number>> = {
  "+": (a, b) => a + b,
  "-": (a, b) => a - b,
  "*": (a, b) => a * b,
  "/": (a, b) => a / b,
  "^": (a, b) => a ** b,
  "<": (a, b) => (a < b ? 1 : 0),
  "<=": (a, b) => (a <= b ? 1 : 0),
  ">": (a, b) => (a > b ? 1 : 0),
  ">=": (a, b) => (a >= b ? 1 : 0),
};

const CONSTANTS: Readonly<Record<string, number>> = { pi: Math.PI, e: Math.E };
const LONGEST = 500;
const DEEPEST = 60;

/** The parts of a mathjs node that are read here. */
interface Node {
  readonly type: string;
  readonly value?: unknown;
  readonly name?: string;
  readonly op?: string;
  readonly args?: readonly MathNode[];
  readonly content?: MathNode;
  readonly fn?: MathNode;
  readonly condition?: MathNode;
  readonly trueExpr?: MathNode;
  readonly falseExpr?: MathNode;
}

class Refused extends Error {}

let parse: ((text: string) => MathNode) | undefined;

/** Compiles a part of the tree in which the node stands. */
type Inner = (part: MathNode) => Evaluate;

function compiled(math: MathNode, variable: string, depth: number): Evaluate {
  if (depth > DEEPEST) throw new Refused("too deep");
  const node = math as unknown as Node;
  const inner = (part: MathNode) => compiled(part, variable, depth + 1);
  switch (node.type) {
    case "ConstantNode":
      return constant(node);
    case "ParenthesisNode":
      return inner(node.content!);
    case "SymbolNode":
      return node.name === variable ? (x) => x : namedConstant(node.name!);
    case "OperatorNode":
      return operation(node, inner);
    case "FunctionNode":
      return call(node, inner);
    case "ConditionalNode": {
      const [test, yes, no] = [node.condition!, node.trueExpr!, node.falseExpr!].map(inner);
      return (x) => (test!(x) !== 0 ? yes!(x) : no!(x));
    }
    default:
      throw new Refused(node.type.replace("Node", "").toLowerCase());
  }
}

function constant({ value }: Node): Evaluate {
  if (typeof value !== "number" || !Number.isFinite(value)) throw new Refused(String(value));
  return () => value;
}

function namedConstant(name: string): Evaluate {
  if (!Object.hasOwn(CONSTANTS, name)) throw new Refused(name);
  const value = CONSTANTS[name]!;
  return () => value;
}

function operation(node: Node, inner: Inner): Evaluate {
  const parts = node.args!.map(inner);
  const [a, b] = parts;
  if (parts.length === 1 && node.op === "-") return (x) => -a!(x);
  if (parts.length === 1 && node.op === "+") return a!;
  if (parts.length !== 2 || !Object.hasOwn(OPERATORS, node.op!)) throw new Refused(node.op!);
  const apply = OPERATORS[node.op!]!;
  return (x) => apply(a!(x), b!(x));
}

function call(node: Node, inner: Inner): Evaluate {
  const name = (node.fn as unknown as Node).name ?? "";
  if (!Object.hasOwn(FUNCTIONS, name)) throw new Refused(name || "call");
  const parts = node.args!.map(inner);
  if (parts.length < 1 || (parts.length > 1 && !ANY_NUMBER.has(name))) throw new Refused(name);
  const apply = FUNCTIONS[name]!;
  if (parts.length === 1) return (x) => apply(parts[0]!(x));
  return (x) => apply(...parts.map((part) => part(x)));
}

/**
 * A function of one variable from its formula.
 *
 * @param text such as `"1500 + 2.5*T"` or `"20 + 80*min(t/600, 1)"`, at most 500 characters. Possible: + - * / ^,
 *   comparisons, `a ? b : c`, pi, e, and abs sqrt exp log log10 sin cos tan tanh min max floor ceil round sign
 * @param variable the one name that stands for the argument: `T` or `t`
 * @param path where the text stands, for the problem
 * @returns the function; it may give NaN where the formula has no value: who calls it checks
 * @throws InputError when the text is no formula, or has anything else in it
 * @example compileExpression("1500 + 2.5*T", "T")(100) // 1750
 */
export function compileExpression(text: string, variable: string, path = ""): Evaluate {
  const given = text.slice(0, 60);
  const refuse = (problem: Partial<Problem>) =>
    new InputError([{ code: "not_a_formula", path, given, ...problem }]);
  if (text.trim() === "") throw refuse({});
  if (text.length > LONGEST) throw refuse({ most: `${LONGEST} characters` });
  parse ??= create({ parseDependencies }).parse as unknown as (text: string) => MathNode;
  let tree: MathNode;
  try {
    tree = parse(text);
  } catch {
    throw refuse({});
  }
  // nothing but a comment
  if ("value" in tree && tree.value === undefined) throw refuse({});
  try {
    return compiled(tree, variable, 0);
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    throw refuse({
      code: "not_in_a_formula",
      given: error.message,
      possible: [variable, "+ - * / ^", ...Object.keys(FUNCTIONS)],
    });
  }
}
