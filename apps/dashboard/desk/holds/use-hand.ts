import { type FocusEvent, type PointerEvent, useEffect, useRef, useState } from 'react';

/** A pointer that lies still for so long has been left there. */
const LEFT_MS = 20_000;

/**
 * Whether somebody has a hand on an element: the keyboard is in it, or a pointer moved over it lately. Spread `on` over
 * the element.
 */
export function useHand() {
  const [pointed, setPointed] = useState(false);
  const [focused, setFocused] = useState(false);
  const timer = useRef<ReturnType<typeof setTimeout>>(undefined);
  useEffect(
    () => () => {
      clearTimeout(timer.current);
    },
    [],
  );
  const point = (isThere: boolean) => {
    clearTimeout(timer.current);
    setPointed(isThere);
    if (isThere) timer.current = setTimeout(setPointed, LEFT_MS, false);
  };
  const on = {
    onPointerMove: ({ pointerType }: PointerEvent) => {
      // A finger is on it only while it touches.
      if (pointerType === 'mouse') point(true);
    },
    onPointerLeave: () => {
      point(false);
    },
    onFocus: () => {
      setFocused(true);
    },
    onBlur: ({ currentTarget, relatedTarget }: FocusEvent) => {
      if (!currentTarget.contains(relatedTarget)) setFocused(false);
    },
  };
  return { held: pointed || focused, on };
}
