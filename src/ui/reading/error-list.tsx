import { useLabels } from "./labels.ts";

/** What is wrong, one line each; the first of very many. */
export function ErrorList({ words: given }: { words: readonly string[] }) {
  const words = useLabels(given);
  const more = words.length - MOST;
  return (
    <div role="alert">
      <ul class="error-list">
        {words.slice(0, MOST).map((w, i) => (
          <li class="error" key={`${i}${w}`}>
            {w}
          </li>
        ))}
        {more > 0 && <li class="error">and {more} more</li>}
      </ul>
    </div>
  );
}

const MOST = 24;
