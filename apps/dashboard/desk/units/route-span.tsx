import { Link } from 'wouter';
import { paths } from '../paths.js';
import type { RouteSpan } from './route-spans.js';

/** A hold, leading to its page, or a clearance, for as long as it lasted. */
export function RouteSpanBar({ span: { kind, hold, label, open } }: { readonly span: RouteSpan }) {
  if (kind === 'clearance') return <span className="route-span route-span--clearance">{label}</span>;
  const words = `✕ ${open ? 'On hold' : 'Was on hold'}: ${label}`;
  const name = `route-span route-span--hold ${open ? 'route-span--open' : ''}`;
  return hold === undefined ? (
    <span className={name} title={words}>
      {words}
    </span>
  ) : (
    <Link className={name} href={paths.hold(hold)} title={words}>
      {words}
    </Link>
  );
}
