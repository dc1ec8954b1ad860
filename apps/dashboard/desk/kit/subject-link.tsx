import { Link } from 'wouter';
import { paths } from '../paths.js';

/** What holds, budgets and entries are about. */
export interface SubjectLike {
  readonly kind: string;
  readonly assembly?: string;
  readonly serial?: string;
  readonly refdes?: string;
  readonly device?: string;
  readonly station?: string;
  readonly operator?: string;
  /** Of a profile, with its revision. */
  readonly name?: string;
  readonly revision?: string;
}

/** A subject by its name: `ZIB-PANEL-1 / 0103 · U1`, `K-0103`, `HOTGAS-1`. */
export function subjectName(subject: SubjectLike): string {
  const { kind, assembly, serial, refdes, device, station, operator, name, revision } = subject;
  if (assembly !== undefined && serial !== undefined) {
    return `${assembly} / ${serial}${refdes === undefined ? '' : ` · ${refdes}`}`;
  }
  const profile = name === undefined ? undefined : `${name} revision ${revision ?? '?'}`;
  return device ?? station ?? operator ?? profile ?? kind;
}

interface SubjectLinkProps {
  readonly subject: SubjectLike;
  /** -1 in rows that the keyboard goes through by arrows. */
  readonly tabIndex?: number;
}

/** A subject by its name, leading to its page where it has one. */
export function SubjectLink({ subject, tabIndex = 0 }: SubjectLinkProps) {
  const name = subjectName(subject);
  const path = subjectPath(subject);
  return path === undefined ? (
    <span className="mono">{name}</span>
  ) : (
    <Link className="mono" href={path} tabIndex={tabIndex}>
      {name}
    </Link>
  );
}

function subjectPath({ assembly, serial, device, station }: SubjectLike): string | undefined {
  if (assembly !== undefined && serial !== undefined) return paths.unit(assembly, serial);
  if (device !== undefined) return paths.device(device);
  return station === undefined ? undefined : paths.station(station);
}
