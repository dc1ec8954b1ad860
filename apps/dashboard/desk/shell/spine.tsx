import { Link, useLocation } from 'wouter';
import { paths } from '../paths.js';
import { type Role, useSession } from '../session/session-gate.js';

const HOUSE: readonly Role[] = ['operator', 'quality', 'approver', 'auditor', 'admin'];

interface Section {
  readonly title: string;
  readonly path: string;
  /** Where an address that begins so belongs to it. */
  readonly begins: readonly string[];
  readonly who?: readonly Role[];
}

const SECTIONS: readonly Section[] = [
  { title: 'Holds', path: paths.holds, begins: ['/holds'] },
  { title: 'Units', path: paths.units, begins: ['/units', '/devices', '/search'] },
  { title: 'Method plan', path: paths.plan, begins: ['/plan'], who: HOUSE },
  {
    title: 'Containment',
    path: paths.containments,
    begins: ['/containments'],
    who: ['quality', 'approver', 'auditor', 'admin'],
  },
  { title: 'Stations', path: paths.stations, begins: ['/stations'], who: HOUSE },
  { title: 'People', path: paths.people, begins: ['/people'], who: HOUSE },
  { title: 'Limits', path: paths.limits, begins: ['/limits'], who: HOUSE },
];

/** The sections that the one who has signed in may open. */
export function Spine() {
  const [location] = useLocation();
  const { roles } = useSession();
  const mine = SECTIONS.filter(({ who }) => who === undefined || who.some((role) => roles.includes(role)));
  return (
    <nav className="spine" aria-label="Sections">
      <Link className="spine__mark" href={paths.holds}>
        Heatbook
      </Link>
      <ul>
        {mine.map(({ title, path, begins }) => {
          const here =
            location === path || begins.some((start) => location === start || location.startsWith(`${start}/`));
          return (
            <li key={path}>
              <Link href={path} aria-current={here ? 'page' : undefined}>
                {title}
              </Link>
            </li>
          );
        })}
      </ul>
    </nav>
  );
}
