import { type SyntheticEvent, useEffect, useRef, useState } from 'react';
import { useLocation } from 'wouter';
import { paths } from '../paths.js';

/** Takes a scan or typed text from anywhere (`/` comes here) and looks for it; a reader types and presses Enter. */
export function ScanField() {
  const [text, setText] = useState('');
  const [, go] = useLocation();
  const input = useRef<HTMLInputElement>(null);
  useEffect(() => {
    const come = (event: KeyboardEvent) => {
      const inField =
        event.target instanceof Element && event.target.closest('input, textarea, select, dialog') !== null;
      if (event.key !== '/' || inField || event.ctrlKey || event.metaKey || event.altKey) return;
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
        aria-keyshortcuts="/"
        value={text}
        onChange={(event) => {
          setText(event.target.value);
        }}
      />
    </form>
  );
}
