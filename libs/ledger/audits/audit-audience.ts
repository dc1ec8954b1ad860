import { UNIT_LEFT_OUT } from '../views/unit-left-out.js';
import { AuditAudience } from './audit-source.js';

const LEFT_OUT: readonly string[] = [
  ...UNIT_LEFT_OUT,
  'units of other customers, and where the devices aboard were before or have gone since',
  'the assembly as it was while it was another customer\u2019s, and profiles that were made for other assemblies',
  'concessions on devices, which another customer may have approved: those on the unit and its sites are there',
];

/** Whom an export is for, and what it therefore leaves out. */
export function auditAudience(reader: AuditAudience['for']): AuditAudience {
  return { for: reader, leftOut: reader === 'customer' ? LEFT_OUT : [] };
}
