import { setImmediate } from 'node:timers/promises';
import { AuditSource } from '../../ledger/audits/audit-source.js';
import { budgetsSection } from './budgets-section.js';
import { estimatesSection } from './estimates-section.js';
import { heatsSection } from './heats-section.js';
import { holdsSection } from './holds-section.js';
import { identitySection } from './identity-section.js';
import { inspectionsSection } from './inspections-section.js';
import { openPointsSection } from './open-points-section.js';
import { partsSection } from './parts-section.js';
import { Report, Section } from './report.js';
import { routeSection } from './route-section.js';
import { Sheet } from './sheet.js';
import { shownTime } from './shown-values.js';
import { peopleOf } from './signature-words.js';
import { storyMarks } from './story-marks.js';
import { verificationSection } from './verification-section.js';

const SECTIONS: readonly Section[] = [
  identitySection,
  routeSection,
  heatsSection,
  budgetsSection,
  inspectionsSection,
  holdsSection,
  partsSection,
  estimatesSection,
  openPointsSection,
  verificationSection,
];

/** How long it writes before others of the process have their turn. */
const TURN_MS = 10;

/**
 * Writes the history of a unit as a tagged PDF 1.7 that people read and file. The ledger is read several times, a page at a
 * time; pages leave as they fill. What stays in memory is the tree of tags, a few hundred bytes for each cell of a table.
 * The same source gives the same bytes.
 * @throws Error where the book has less than it says, or the source tells what cannot be drawn
 */
export async function* writePdf(source: AuditSource): AsyncGenerator<Uint8Array, void> {
  const { assembly, serial, exportedAt, ledger } = source;
  const sheet = new Sheet({
    title: `Audit of unit ${assembly}/${serial}`,
    header: `Audit of unit · assembly ${assembly} · serial ${serial}`,
    footer: serial,
    footerEnd: ` · head hash ${ledger.headHash.slice(0, 16)} · exported ${shownTime(exportedAt)}`,
    createdAt: new Date(exportedAt),
  });
  const report: Report = { source, sheet, marks: await storyMarks(ledger), people: peopleOf(source.people) };
  let turnEndsMs = performance.now() + TURN_MS;
  for (const section of SECTIONS) {
    const steps = section(report);
    for (let step = await steps.next(); step.done !== true; step = await steps.next()) {
      yield* written(sheet);
      if (performance.now() < turnEndsMs) continue;
      await setImmediate();
      turnEndsMs = performance.now() + TURN_MS;
    }
    yield* written(sheet);
  }
  sheet.finish();
  yield* written(sheet);
}

function* written(sheet: Sheet): Generator<Uint8Array, void> {
  for (let bytes = sheet.take(); bytes !== null; bytes = sheet.take()) yield bytes;
}
