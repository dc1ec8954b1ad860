import { Link } from 'wouter';
import type { Schemas } from '../api/client.js';
import { paths } from '../paths.js';
import { partPath, UNIT_PARTS, type UnitPart } from './unit-parts.js';
import './unit-part-nav.css';

interface UnitPartNavProps {
  readonly unit: Schemas['Unit'];
  readonly shown: UnitPart;
}

/** The parts of the unit's page, as dividers in a file. */
export function UnitPartNav({ unit, shown }: UnitPartNavProps) {
  const path = paths.unit(unit.assembly, unit.serial);
  return (
    <nav className="unit-part-nav" aria-label="Parts of this unit's page">
      <ul>
        {UNIT_PARTS.map(({ part, title }) => (
          <li key={part}>
            <Link href={partPath(path, part)} aria-current={part === shown ? 'page' : undefined}>
              {title}
            </Link>
          </li>
        ))}
      </ul>
    </nav>
  );
}
