import { catalog } from "../../../lib/materials/catalog.ts";
import type { Problem } from "../../../lib/units/problem.ts";
import { atPath } from "../../notebook/dials/dials.ts";
import type { Dial, DialReading } from "../../notebook/dials/types.ts";
import { DialField } from "../page/dial.tsx";
import { asPrinted } from "../page/dial-help.ts";
import { unitSystem } from "../reading/preferences.ts";
import { problemWords } from "../reading/problem-words.ts";
import { inReaderText } from "../reading/typed.ts";
import { withJobValue, withOneMore } from "./edit.ts";
import { type Field, jobFields, type LeafField, type ListField } from "./fields.ts";

interface FormProps {
  readonly text: string;
  /** The file as plain data, texts as typed. */
  readonly raw: unknown;
  readonly problems: readonly Problem[];
  readonly onChange: (text: string) => void;
}

/** The groups in the words and the order of the bench; what is not named here follows as the schema has it. */
const GROUPS: ReadonlyMap<string, string> = new Map([
  ["bait", "Bait"],
  ["shot", "Plastic and shot"],
  ["mold", "Mold"],
  ["room", "Room"],
  ["layer", "Second color"],
  ["run", "Shots in a row"],
  ["limits", "Limits"],
  ["sprue", "Sprue and gate"],
  ["cup", "Cup of hot plastic"],
  ["pour", "Pouring the mold"],
  ["mix", "Mixing"],
  ["shrink", "Size of the master"],
  ["uncertainty", "How well it is known"],
  ["materials", "Materials of your own"],
  ["swim", "In the water"],
  ["plan", "The evening"],
]);

function inBenchOrder(fields: readonly Field[]): Field[] {
  const order = [...GROUPS.keys()];
  const place = (f: Field) =>
    (order.indexOf(String(f.path[0])) + order.length + 1) % (order.length + 1);
  return fields.toSorted((a, b) => place(a) - place(b));
}

/** Groups that most jobs need come open. */
const OPEN = new Set(["bait", "room", "mold", "shot"]);

export function JobForm(props: FormProps) {
  // what a log has taught is no one's to type
  const fields = inBenchOrder(jobFields()).filter((f) => f.path[0] !== "fitted");
  const single = fields.filter((f) => f.kind === "leaf");
  const groups = fields.filter((f) => f.kind !== "leaf");
  return (
    <div class="job-form">
      <div class="dials across">
        {single.map((f) => (
          <FieldView key={f.path.join(".")} field={f} form={props} />
        ))}
      </div>
      {groups.map((f) => (
        <details class="closer" key={f.path.join(".")} open={OPEN.has(String(f.path[0]))}>
          <summary>
            <span class="group-name">{GROUPS.get(String(f.path[0])) ?? f.label}</span>
            <Count field={f} raw={props.raw} problems={props.problems} />
          </summary>
          <FieldView field={f} form={props} />
        </details>
      ))}
    </div>
  );
}

function pathText(path: Field["path"]): string {
  return path
    .map((key, i) => (typeof key === "number" ? `[${key}]` : i === 0 ? key : `.${key}`))
    .join("");
}

function Count({
  field,
  raw,
  problems,
}: {
  field: Field;
  raw: unknown;
  problems: readonly Problem[];
}) {
  const path = pathText(field.path);
  const wrong = problems.filter((p) => p.path === path || p.path.startsWith(`${path}.`)).length;
  const given = atPath(raw, path);
  const own = given === undefined ? 0 : leavesOf(given);
  return (
    <span class="group-count">
      {wrong > 0 ? (
        <span class="error">{wrong} to mend</span>
      ) : own === 0 ? (
        <span class="not-yours">all defaults</span>
      ) : (
        <span class="yours">{own} set</span>
      )}
    </span>
  );
}

function leavesOf(given: unknown): number {
  if (typeof given !== "object" || given === null) return 1;
  return Object.values(given).reduce((n: number, v) => n + leavesOf(v), 0);
}

function FieldView({ field, form }: { field: Field; form: FormProps }) {
  if (field.kind === "leaf") return <Leaf field={field} form={form} />;
  if (field.kind === "list") return <List field={field} form={form} />;
  const leaves = field.fields.filter((f) => f.kind === "leaf");
  const rest = field.fields.filter((f) => f.kind !== "leaf");
  return (
    <div class="group">
      <div class="dials across">
        {leaves.map((f) => (
          <FieldView key={f.path.join(".")} field={f} form={form} />
        ))}
      </div>
      {rest.map((f) => (
        <details class="closer inner" key={f.path.join(".")}>
          <summary>
            {f.label}
            <Count field={f} raw={form.raw} problems={form.problems} />
          </summary>
          <FieldView field={f} form={form} />
        </details>
      ))}
    </div>
  );
}

function List({ field, form }: { field: ListField; form: FormProps }) {
  const given = atPath(form.raw, pathText(field.path));
  const count = Array.isArray(given) ? given.length : 0;
  return (
    <div class="group">
      {Array.from({ length: count }, (_, i) => (
        <fieldset class="list-item" key={i}>
          <legend>
            {field.label} {i + 1}
          </legend>
          <FieldView field={field.item(i)} form={form} />
          <button
            type="button"
            class="plain"
            onClick={() => form.onChange(withJobValue(form.text, [...field.path, i], undefined))}
          >
            Take {field.label.toLowerCase()} {i + 1} out
          </button>
        </fieldset>
      ))}
      <button type="button" onClick={() => form.onChange(withOneMore(form.text, field.path))}>
        One more
      </button>
    </div>
  );
}

function Leaf({ field, form }: { field: LeafField; form: FormProps }) {
  const path = pathText(field.path);
  const given = atPath(form.raw, path);
  const problem = form.problems.find((p) => p.path === path);
  const untouched = given === undefined;
  const text = given === undefined ? (field.initial ?? "") : String(given);
  const dial = dialOf(field, path, text);
  const from = untouched ? "default" : "page";
  const reading: DialReading = {
    dial,
    text,
    from,
  };
  const change = (value: string | boolean | undefined) => {
    const next =
      value === ""
        ? undefined
        : field.holds === "count" && /^\d+$/.test(String(value))
          ? Number(value)
          : value;
    form.onChange(withJobValue(form.text, field.path, next));
  };
  return (
    <DialField
      reading={reading}
      wrong={problem && problemWords(problem)}
      untouched={untouched}
      mark={untouched ? (text === "" && !field.follows ? "left out" : "default") : "set"}
      {...(untouched && { placeholder: placeholderFor(field) })}
      onChange={(_, value) => change(value)}
    >
      {!untouched && (
        <button
          type="button"
          class="plain back-to-default no-print"
          aria-label={`${field.label}: back to ${backTo(field)}`}
          onClick={() => change(undefined)}
        >
          Back to {backTo(field)}
        </button>
      )}
    </DialField>
  );
}

/** Names of the catalog's materials of these families; all of them when none are named. */
function materialNames(families: readonly string[]): string[] {
  const fitting = catalog.filter((m) => families.length === 0 || families.includes(m.family));
  return fitting.map((m) => m.name);
}

function backTo(field: LeafField): string {
  if (field.initial) return asPrinted(inReaderText(field.initial, unitSystem.value));
  return field.follows === undefined ? "none" : "the default";
}

function placeholderFor(field: LeafField): string {
  return field.follows === undefined ? "none" : `as ${field.follows.replaceAll(".", " ")}`;
}

function dialOf(field: LeafField, name: string, text: string): Dial {
  const base = { name, label: field.label, line: 0 };
  const { possible, least, most, holds } = field;
  if (holds === "word" || holds === "material") {
    const choices = [...(possible ?? materialNames(field.families ?? []))];
    if (text !== "" && !choices.includes(text)) choices.unshift(text);
    return { ...base, kind: "choice", choices, value: text };
  }
  if (holds === "text" || holds === "ratio of parts")
    return { ...base, kind: "quantity", quantity: "text", value: text };
  const bounds = {
    ...(least !== undefined && { min: least }),
    ...(most !== undefined && { max: most }),
  };
  if (holds === "count")
    return { ...base, kind: "number", quantity: "number", value: text, step: "1", ...bounds };
  return { ...base, kind: "quantity", quantity: holds, value: text, ...bounds };
}
