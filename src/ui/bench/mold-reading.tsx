import { useId } from "preact/hooks";
import { isProblem, readQuantity } from "../../../lib/units/quantity.ts";
import type { Settings } from "../asking/asked.ts";
import { unitSystem } from "../reading/preferences.ts";
import { problemWords } from "../reading/problem-words.ts";
import { unitSign, withReaderUnit } from "../reading/typed.ts";

/** A reading of the mold as a change of its job: at the start of the shot it stands for both halves. */
export function moldReading(reading: string): Settings {
  return { "mold.temperature": reading };
}

/** Where a thermometer's reading is typed: a bare number is in the unit that is switched on. */
export function MoldReading(props: { value: string; onChange: (value: string) => void }) {
  const { value, onChange } = props;
  const id = useId();
  const system = unitSystem.value;
  const read =
    value.trim() === ""
      ? undefined
      : readQuantity(withReaderUnit(value, "temperature", system), "temperature");
  return (
    <div>
      <label for={id} class="dial-label">
        Infrared reading of the empty mold face, at the start
      </label>
      <input
        id={id}
        value={value}
        inputmode="decimal"
        placeholder={`104, in ${unitSign("temperature", system)}`}
        aria-describedby={`${id}n`}
        onInput={(e) => onChange(e.currentTarget.value)}
      />
      <p class={read && isProblem(read) ? "error small" : "small"} id={`${id}n`}>
        {read && isProblem(read)
          ? problemWords(read)
          : "Read it on matt tape or a black marker dot; bare metal reads far too cold."}
      </p>
    </div>
  );
}
