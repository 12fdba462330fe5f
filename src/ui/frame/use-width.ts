import type { RefObject } from "preact";
import { useEffect, useState } from "preact/hooks";

/** Width of an element in CSS pixels, also after the window was turned; 0 before it is known. */
export function useWidth(element: RefObject<Element | null>): number {
  const [width, setWidth] = useState(0);
  useEffect(() => {
    const { current } = element;
    if (!current) return;
    const watch = new ResizeObserver(() => setWidth(Math.floor(current.clientWidth)));
    watch.observe(current);
    return () => watch.disconnect();
  }, [element]);
  return width;
}
