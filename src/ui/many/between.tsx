/** One key of the job that changes, and the two ends of what it may be. */
import { asPrinted } from "../page/dial-help.ts";
import type { NumberKey } from "./keys.ts";

export interface Row {
  readonly path: string;
  readonly from: string;
  readonly to: string;
}

interface BetweenProps {
  readonly row: Row;
  readonly keys: readonly NumberKey[];
  /** The bait was measured or drawn: its stations go along with its thickness. */
  readonly hasStations: boolean;
  readonly onKey: (path: string) => void;
  readonly onChange: (row: Row) => void;
  readonly onRemove: (() => void) | undefined;
}

export function Between({ row, keys, hasStations, onKey, onChange, onRemove }: BetweenProps) {
  const label = keys.find((k) => k.path === row.path)?.label ?? row.path;
  const groups = [...new Set(keys.map(({ group }) => group))];
  const end = (which: "from" | "to") => (
    <label>
      <span class="dial-label">{which}</span>
      <input
        aria-label={`${label}, ${which}`}
        value={asPrinted(row[which])}
        onInput={(e) => onChange({ ...row, [which]: e.currentTarget.value })}
      />
    </label>
  );
  return (
    <fieldset class="between">
      <legend class="dial-label">What changes</legend>
      <select
        aria-label="What changes"
        value={row.path}
        onChange={(e) => onKey(e.currentTarget.value)}
      >
        {groups.map((group) => (
          <optgroup key={group} label={group}>
            {keys
              .filter((key) => key.group === group)
              .map((key) => (
                <option key={key.path} value={key.path}>
                  {key.label}
                </option>
              ))}
          </optgroup>
        ))}
      </select>
      <div class="between-ends">
        {end("from")}
        {end("to")}
      </div>
      {hasStations && row.path === "bait.thickness" && (
        <p class="note">All stations are scaled alike with it, across; the length stays.</p>
      )}
      {onRemove && (
        <button type="button" class="plain" onClick={onRemove} aria-label={`Take ${label} out`}>
          Take this out
        </button>
      )}
    </fieldset>
  );
}
