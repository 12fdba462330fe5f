/** The form of a job, made from the schema that checks the file. No second list of keys anywhere. */
import { z } from "zod";
import { jobSchema } from "../../../lib/job/schema.ts";

interface FieldBase {
  /** Keys from the top: `["bait", "thickness"]`. */
  readonly path: readonly (string | number)[];
  readonly label: string;
}

export interface LeafField extends FieldBase {
  readonly kind: "leaf";
  /** A kind of quantity, or `word`, `count`, `text` ... */
  readonly holds: string;
  readonly least?: string;
  readonly most?: string;
  readonly initial?: string;
  /** Path whose value it takes while it says nothing. */
  readonly follows?: string;
  readonly possible?: readonly string[];
  /** Families of material that can stand here. */
  readonly families?: readonly string[];
}

interface GroupField extends FieldBase {
  readonly kind: "group";
  readonly fields: readonly Field[];
}

/** Several of the same: stations, steps. `item` is the field of one of them, with its place as last key. */
export interface ListField extends FieldBase {
  readonly kind: "list";
  readonly item: (place: number) => Field;
}

export type Field = LeafField | GroupField | ListField;

interface JsonSchema {
  readonly type?: string;
  readonly properties?: Readonly<Record<string, JsonSchema>>;
  readonly items?: JsonSchema | false;
  readonly prefixItems?: readonly JsonSchema[];
  readonly enum?: readonly string[];
  readonly label?: string;
  readonly kind?: string;
  readonly least?: string;
  readonly most?: string;
  readonly initial?: string | number | boolean;
  readonly follows?: string;
  readonly possible?: readonly string[];
  readonly families?: readonly string[];
}

let made: readonly Field[] | undefined;

export function jobFields(): readonly Field[] {
  made ??= (() => {
    const schema = z.toJSONSchema(jobSchema, { io: "input", unrepresentable: "any" }) as JsonSchema;
    return fieldsOf(schema, []);
  })();
  return made;
}

function fieldsOf(schema: JsonSchema, path: FieldBase["path"]): Field[] {
  return Object.entries(schema.properties ?? {}).flatMap(([key, part]) => {
    const field = fieldOf(part, [...path, key], key);
    return field ? [field] : [];
  });
}

function fieldOf(schema: JsonSchema, path: FieldBase["path"], key: string): Field | undefined {
  const label = schema.label ?? wordsOf(key);
  if (schema.kind !== undefined) {
    const { least, most, follows, possible, families, initial } = schema;
    return {
      kind: "leaf",
      path,
      label,
      holds: schema.kind,
      ...(least !== undefined && { least }),
      ...(most !== undefined && { most }),
      ...(initial !== undefined && { initial: String(initial) }),
      ...(follows !== undefined && { follows }),
      ...(possible !== undefined && { possible }),
      ...(families !== undefined && { families }),
    };
  }
  if (schema.properties) return { kind: "group", path, label, fields: fieldsOf(schema, path) };
  const { items } = schema;
  if (typeof items === "object" && items.properties) {
    const item = (place: number): Field => ({
      kind: "group",
      path: [...path, place],
      label: `${label} ${place + 1}`,
      fields: fieldsOf(items, [...path, place]),
    });
    return { kind: "list", path, label, item };
  }
  return undefined; // an outline: points are edited in the text
}

/** `upperTemperature` as words, for groups that carry no label. */
function wordsOf(key: string): string {
  const words = key.replace(/([A-Z])/g, (_, letter: string) => ` ${letter.toLowerCase()}`);
  return words.charAt(0).toUpperCase() + words.slice(1);
}
