import { type SyntheticEvent, useEffect, useRef, useState } from 'react';
import { useLocation } from 'wouter';
import { paths } from '../paths.js';

/** Takes a scan or typed text from anywhere (Control with `/` comes here) and looks for it; a reader types and presses Enter. */
export function ScanField() {
  const [text, setText] = useState('');
  const [, go] = useLocation();
  const input = useRef<HTMLInputElement>(null);
  useEffect(() => {
    const come = (event: KeyboardEvent) => {
      // With Control: a letter alone would be typed by whoever speaks to the machine, or leans on it.
      const isAsked = event.key === '/' && (event.ctrlKey || event.metaKey);
      if (!isAsked || document.querySelector('dialog[open]') !== null) return;
      event.preventDefault();
      input.current?.select();
      input.current?.focus();
    };
    document.addEventListener('keydown', come);
    return () => {
      document.removeEventListener('keydown', come);
    };
  }, []);
  const submit = (event: SyntheticEvent) => {
    event.preventDefault();
    const wanted = text.trim();
    if (wanted === '') return;
    setText('');
    go(paths.search(wanted));
  };
  return (
    <form role="search" className="scan" onSubmit={submit}>
      <label htmlFor="scan">Scan or type</label>
      <input
        id="scan"
        ref={input}
        type="search"
        autoComplete="off"
        spellCheck={false}
        maxLength={140}
        placeholder="serial, device, station"
        aria-keyshortcuts="Control+/"
        value={text}
        onChange={(event) => {
          setText(event.target.value);
        }}
      />
    </form>
  );
}
