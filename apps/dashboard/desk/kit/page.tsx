import { type ReactNode, useEffect, useRef } from 'react';

interface PageProps {
  readonly title: string;
  /** Above the title: what the page belongs to. */
  readonly over?: ReactNode;
  /** Beside the title: marks and actions. */
  readonly beside?: ReactNode;
  readonly children: ReactNode;
}

/** A page with its heading, which is said and focused when one comes to it, so that a reader aloud knows where they are. */
export function Page({ title, over, beside, children }: PageProps) {
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    document.title = `${title} · Heatbook`;
  }, [title]);
  useEffect(() => {
    if (document.activeElement === document.body) heading.current?.focus({ preventScroll: true });
  }, []);
  return (
    <div className="page">
      <header className="page__head">
        <div>
          {over !== undefined && <div className="page__over">{over}</div>}
          <h1 ref={heading} tabIndex={-1}>
            {title}
          </h1>
        </div>
        {beside !== undefined && <div className="page__beside">{beside}</div>}
      </header>
      {children}
    </div>
  );
}

interface BlockProps {
  readonly title: string;
  /** Said under the title in quiet words. */
  readonly note?: ReactNode;
  readonly beside?: ReactNode;
  readonly children: ReactNode;
}

/** A part of a page. */
export function Block({ title, note, beside, children }: BlockProps) {
  return (
    <section className="block" aria-label={title}>
      <header className="block__head">
        <h2>{title}</h2>
        {beside}
      </header>
      {note !== undefined && <p className="block__note">{note}</p>}
      {children}
    </section>
  );
}
