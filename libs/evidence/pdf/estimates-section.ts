import { UnitView } from '../../ledger/views/unit-view.js';
import { Report } from './report.js';
import { Cell } from './laid-cell.js';
import { SheetTable } from './sheet-table.js';
import { BUDGET_WORDS, figure, listed, shownSubject, shownTime } from './shown-values.js';

const MOST = 8;
const PACE = 25;

type Row = readonly [of: string, what: string, value: string, known: string, source: Cell];

/** Which figures are measured, declared, inferred, assumed or estimated, and by what. */
export function* estimatesSection({ source, sheet }: Report): Generator<undefined, void> {
  const { unit } = source;
  sheet.begin('Estimated and measured', 2);
  sheet.paragraph(
    'No estimate stands for a measurement: each figure says how it is known. Declared: said by the owner or by the station. ' +
      'Inferred: taken from the step or from the qualification of its profile. Assumed: taken from how the assembly is built, or ' +
      'from a table that nobody has measured. A sum is known no better than its weakest part.',
  );
  const table = new SheetTable(sheet, [
    { title: 'Of what', share: 15, head: true },
    { title: 'Figure', share: 16 },
    { title: 'Value', share: 16 },
    { title: 'How it is known', share: 18 },
    { title: 'From what', share: 35 },
  ]);
  const told = new Set<string>();
  const rows = [...unit.sites.flatMap((site) => siteRows(site, told)), ...budgetRows(unit), moistureRow(unit)];
  for (const [index, row] of rows.entries()) {
    table.row(row);
    if (index % PACE === PACE - 1) yield;
  }
  table.end();
}

/** @param told sources that were printed already: they are long, and the same for many sites */
function siteRows({ refdes, copper, lead, remnant }: UnitView['sites'][number], told: Set<string>): Row[] {
  const of = `site ${refdes}`;
  const rows: Row[] = [];
  if (copper !== null) {
    const { leftUm, startUm, certainty, basis, source, stops, rows: losses } = copper;
    const value =
      leftUm === null
        ? 'not modelled'
        : `${certainty === 'at-most' ? 'at most ' : ''}${figure(leftUm, 'µm')} of ${figure(startUm, 'µm')}`;
    const steps = losses.map(({ what, lostUm }) => `${what}: ${lostUm === null ? 'unknown' : figure(lostUm, 'µm')}`);
    const blocks = [
      stops?.detail ?? (steps.length === 0 ? 'no solder stood on its pads since' : listed(steps, MOST)),
      once(source, told),
    ];
    const known = leftUm === null ? 'not known' : `estimated; rates ${basis}`;
    rows.push([of, 'copper left on pads', value, known, { blocks: blocks.map((text) => ({ text })) }]);
  }
  if (lead.measuredPct !== null) {
    rows.push([
      of,
      'lead in the joint',
      figure(lead.measuredPct, 'wt%', 4),
      'measured',
      'inspection of technique xrf, since the last placement',
    ]);
  }
  if (lead.estimate !== null) {
    const { leadPct, basis, why, source } = lead.estimate;
    const blocks = [listed(why, MOST), once(source, told)].map((text) => ({ text }));
    rows.push([of, 'lead in the joint', figure(leadPct, 'wt%', 3), `estimated; ${basis}`, { blocks }]);
  }
  if (remnant.filmUm !== null) {
    rows.push([of, 'solder left on pads', figure(remnant.filmUm, 'µm'), 'measured by the station', remnant.alloy]);
  }
  return rows;
}

function once(source: string, told: Set<string>): string {
  if (told.has(source)) return 'source as above';
  told.add(source);
  return source;
}

function budgetRows({ budgets }: UnitView): Row[] {
  return budgets.map(({ subject, limit, used, possible, basis, inputs }) => {
    const { prior, measured, declared, inferred } = inputs;
    const perhaps = possible === 0 ? '' : `, and ${String(possible)} possible`;
    const parts = [
      `${String(prior.count)} before the book (${prior.basis})`,
      ...(measured === 0 ? [] : [`${String(measured)} measured`]),
      ...(declared === 0 ? [] : [`${String(declared)} declared`]),
      ...(inferred === 0 ? [] : [`${String(inferred)} inferred`]),
    ];
    return [shownSubject(subject), BUDGET_WORDS[limit], `${String(used)}${perhaps}`, basis, parts.join(', ')];
  });
}

function moistureRow({ moisture }: UnitView): Row {
  const { state, remainingH, expiresAt, why, unknown, boardDry } = moisture;
  // What is left of a life that is unknown or over is no figure to go by.
  const counts = state !== 'unknown' && state !== 'expired';
  const left = remainingH === null || !counts ? '' : `, ${figure(remainingH, 'h', 1)} of floor life left`;
  const ends =
    expiresAt === null || state === 'unknown' ? '' : `, ${counts ? 'until' : 'since'} ${shownTime(expiresAt)}`;
  const known = unknown.length === 0 ? 'from what stations told' : `unknown for ${listed(unknown, MOST)}`;
  const dry = boardDry ? 'dry, or baked as boards are' : 'not known to be dry as a board';
  return ['unit', 'moisture', `${state}${left}${ends}`, known, { blocks: [{ text: why }, { text: dry }] }];
}
