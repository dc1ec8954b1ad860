import { type KeyboardEvent, useEffect, useRef } from 'react';
import { Link } from 'wouter';
import { Block } from '../kit/page.js';
import { unitStateWords } from '../units/site-words.js';
import { reasonWords } from '../words/words.js';
import { byKind, type FoundItem, pathOf } from './found-words.js';
import { placeAfter } from './place-after.js';
import './found-list.css';

interface FoundListProps {
  readonly items: readonly FoundItem[];
  /** There is more than is shown. */
  readonly truncated: boolean;
}

/** Finds by kind. The first has the focus, the arrows go through them, Enter opens one. */
export function FoundList({ items, truncated }: FoundListProps) {
  const list = useRef<HTMLDivElement>(null);
  useEffect(() => {
    links(list.current)[0]?.focus();
  }, []);
  const move = (event: KeyboardEvent) => {
    if (isTyping(event)) {
      // The next scan: were its Enter to come to what has the focus here, it would open another board than was scanned.
      document.getElementById('scan')?.focus();
      return;
    }
    const all = links(list.current);
    const place = placeAfter(
      event.key,
      all.findIndex((link) => link === document.activeElement),
      all.length,
    );
    if (place === undefined) return;
    event.preventDefault();
    all[place]?.focus();
  };
  return (
    <div ref={list} className="found" onKeyDown={move}>
      <p className="quiet" role="status">
        {truncated ? `The first ${items.length}: type more of the name to narrow it down.` : `${items.length} found.`}{' '}
        Arrows go through them, Enter opens one.
      </p>
      {byKind(items).map((group) => (
        <Block key={group.title} title={group.title}>
          <ul className="found__list">
            {group.items.map((item) => (
              <li key={item.name}>
                <Find item={item} />
              </li>
            ))}
          </ul>
        </Block>
      ))}
    </div>
  );
}

function isTyping({ key, ctrlKey, metaKey, altKey }: KeyboardEvent): boolean {
  return key.length === 1 && key !== ' ' && !ctrlKey && !metaKey && !altKey;
}

function links(list: HTMLElement | null): readonly HTMLElement[] {
  return list === null ? [] : [...list.querySelectorAll<HTMLElement>('a.found__item')];
}

function Find({ item }: { readonly item: FoundItem }) {
  const path = pathOf(item);
  const what = (
    <>
      <span className="mono found__name">{item.name}</span>
      <span className="found__more">{moreOf(item)}</span>
    </>
  );
  return path === undefined ? (
    <span className="found__item">{what}</span>
  ) : (
    <Link className="found__item" href={path}>
      {what}
    </Link>
  );
}

/** What tells it from others named alike. */
function moreOf({ kind, assembly, serial, customer, state, detail }: FoundItem): string {
  const parts = [
    kind === 'hold' && detail !== undefined ? reasonWords(detail) : detail,
    (kind === 'device' || kind === 'hold') && assembly !== undefined && serial !== undefined
      ? `on ${assembly} / ${serial}`
      : undefined,
    customer,
    kind === 'unit' && state !== undefined ? unitStateWords(state) : state,
  ];
  return parts.filter((part) => part !== undefined && part !== '').join(' · ');
}
