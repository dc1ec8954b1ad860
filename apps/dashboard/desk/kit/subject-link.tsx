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
  readonly profile?: unknown;
}

/** A subject by its name: `ZIB-PANEL-1 / 0103 · U1`, `K-0103`, `HOTGAS-1`. */
export function subjectName(subject: SubjectLike): string {
  const { kind, assembly, serial, refdes, device, station, operator } = subject;
  if (assembly !== undefined && serial !== undefined) {
    return `${assembly} / ${serial}${refdes === undefined ? '' : ` · ${refdes}`}`;
  }
  return device ?? station ?? operator ?? kind;
}

/** A subject by its name, leading to its page where it has one. */
export function SubjectLink({ subject }: { readonly subject: SubjectLike }) {
  const name = subjectName(subject);
  const path = subjectPath(subject);
  return path === undefined ? (
    <span className="mono">{name}</span>
  ) : (
    <Link className="mono" href={path}>
      {name}
    </Link>
  );
}

function subjectPath({ assembly, serial, device, station }: SubjectLike): string | undefined {
  if (assembly !== undefined && serial !== undefined) return paths.unit(assembly, serial);
  if (device !== undefined) return paths.device(device);
  return station === undefined ? undefined : paths.station(station);
}
