import { MOST_KEPT, MOST_UNFINISHED, MOST_UNITS } from '../../../libs/ledger/archives/archive-bounds.js';
import type { ArchiveRefusal } from '../../../libs/ledger/archives/start-archive.js';
import { ProblemError } from '../http/problem.js';

const RETRY_AFTER_S = 60;

/** Why there is no archive, with what would mend it. */
export function archiveRefused(refusal: ArchiveRefusal, assembly: string | undefined): ProblemError {
  switch (refusal) {
    case 'no-units':
      return new ProblemError(
        'not-found',
        `There is no unit of assembly ${String(assembly)} to show; GET /v1/units lists them.`,
      );
    case 'too-many-units':
      return new ProblemError(
        'archive-too-wide',
        `An archive takes ${String(MOST_UNITS)} units: name serials, and ask for several archives.`,
      );
    case 'unfinished':
      return tooMany(
        `${String(MOST_UNFINISHED)} archives of yours are not made yet: wait for one, or cancel one with DELETE /v1/audits/{id}.`,
      );
    case 'kept':
      return tooMany(
        `${String(MOST_KEPT)} archives of yours are kept: remove some with DELETE /v1/audits/{id}; GET /v1/audits lists them.`,
      );
    case 'bytes':
      return tooMany(
        'There is no room for another archive: remove old ones with DELETE /v1/audits/{id}, or try later.',
      );
  }
}

function tooMany(detail: string): ProblemError {
  return new ProblemError('too-many-archives', detail, { headers: { 'retry-after': String(RETRY_AFTER_S) } });
}
