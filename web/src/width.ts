// How wide an element is, kept up to date.

import type { RefObject } from "preact";
import { useLayoutEffect, useRef, useState } from "preact/hooks";

/** How large letters are set, against the usual 16 px: drawings with words in them grow with them. */
export function letterSize(): number {
    return (parseFloat(getComputedStyle(document.documentElement).fontSize) || 16) / 16;
}

export function useWidth<T extends Element>(first: number): [RefObject<T>, number] {
    const ref = useRef<T>(null);
    const [width, setWidth] = useState(first);
    useLayoutEffect(() => {
        const element = ref.current;
        if (!element) return undefined;
        const read = () => {
            const w = Math.round(element.getBoundingClientRect().width);
            if (w > 0) setWidth(w);
        };
        read();
        const watch = new ResizeObserver(read);
        watch.observe(element);
        return () => watch.disconnect();
    }, []);
    return [ref, width];
}
