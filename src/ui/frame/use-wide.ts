import { useEffect, useState } from "preact/hooks";

/** Whether the window has room for two columns; the same width as in the sheet's style. */
const TWO_COLUMNS = "(min-width: 62rem)";

export function useWide(): boolean {
  const [isWide, setWide] = useState(() => matchMedia(TWO_COLUMNS).matches);
  useEffect(() => {
    const query = matchMedia(TWO_COLUMNS);
    const look = () => setWide(query.matches);
    look();
    query.addEventListener("change", look);
    return () => query.removeEventListener("change", look);
  }, []);
  return isWide;
}
