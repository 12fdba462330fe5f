import type { FigureOutput } from "../../../notebook/outputs/output.ts";
import { Scroll } from "../../frame/scroll.tsx";
import { csvText } from "../save.ts";

type Column = readonly [name: string, values: ArrayLike<string | number | null>];

/** Each mark's data by columns, in SI. */
function columnsOf(mark: FigureOutput["marks"][number]): Column[] {
  const { data } = mark;
  if (!Array.isArray(data)) return Object.entries(data);
  const names = [...new Set(data.flatMap((row) => Object.keys(row)))];
  return names.map((name) => [name, data.map((row) => row[name] ?? null)]);
}

const SHOWN_ROWS = 40;

/** What the picture is made of, for those who cannot see it. Long data are thinned here, never in the file. */
export function FigureData({ output }: { output: FigureOutput }) {
  return (
    <>
      {output.marks.map((mark, i) => {
        const columns = columnsOf(mark);
        const count = columns[0]?.[1].length ?? 0;
        const every = Math.max(1, Math.ceil(count / SHOWN_ROWS));
        const rows = Array.from({ length: Math.ceil(count / every) }, (_, r) => r * every);
        return (
          <Scroll label={`Data ${i + 1}`} key={i}>
            <table>
              <caption>
                {mark.label ?? `${output.y.label} over ${output.x.label}`} (SI units
                {every > 1 ? `, every ${every}th row` : ""})
              </caption>
              <thead>
                <tr>
                  {columns.map(([name]) => (
                    <th key={name} scope="col">
                      {name}
                    </th>
                  ))}
                </tr>
              </thead>
              <tbody>
                {rows.map((r) => (
                  <tr key={r}>
                    {columns.map(([name, values]) => (
                      <td key={name}>{cellText(values[r] ?? null)}</td>
                    ))}
                  </tr>
                ))}
              </tbody>
            </table>
          </Scroll>
        );
      })}
    </>
  );
}

function cellText(cell: string | number | null): string {
  if (cell === null) return "";
  return typeof cell === "number" ? String(Number(cell.toPrecision(5))) : cell;
}

export function figureCsv(output: FigureOutput): string {
  const rows: (string | number | null)[][] = [];
  output.marks.forEach((mark, i) => {
    for (const [name, values] of columnsOf(mark))
      for (let r = 0; r < values.length; r++)
        rows.push([i + 1, mark.label ?? mark.mark, r + 1, name, values[r] ?? null]);
  });
  return csvText(["mark", "label", "row", "column", "value (SI)"], rows);
}
