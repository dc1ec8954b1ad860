import { AssemblyDesign, Side } from '../../domain/setup/setup-data.js';
import { AuditSource } from '../../ledger/audits/audit-source.js';
import { StoredRevision } from '../../ledger/ports/setup-store.js';
import { pairs } from './pairs.js';
import { Report } from './report.js';
import { SheetTable } from './sheet-table.js';
import { counted, figure, listed, shownTime } from './shown-values.js';

/** What the document is about: the unit, what it is built of, and what it was judged by. */
export function* identitySection({ source, sheet, marks }: Report): Generator<undefined, void> {
  const { unit, audience, holds } = source;
  sheet.begin(`Audit of unit ${source.assembly}/${source.serial}`, 1);
  sheet.paragraph(
    'The history of one serial-numbered board assembly, as the book of record has it. The same entries are in the JSON ' +
      'file of this export, which can be checked by machine; the last section says how.',
  );
  const open = unit.holds.length;
  pairs(sheet, [
    [
      'State',
      `${unit.state}; ${counted(open, 'open hold', 'open holds')}, ${counted(unit.warnings.length, 'warning', 'warnings')}`,
    ],
    [
      'In this document',
      `${counted(source.ledger.count, 'entry', 'entries')}: ${counted(marks.heats, 'heat', 'heats')}, ` +
        `${counted(marks.inspections, 'inspection', 'inspections')}, ${counted(holds.length, 'hold', 'holds')} in all; ` +
        `${String(marks.late.size)} told late, ${String(marks.annulled.size)} annulled, ${String(marks.rejudged.size)} judged anew`,
    ],
    ['Exported', shownTime(source.exportedAt)],
  ]);
  yield;
  sheet.begin('Identity and configuration', 2);
  const design = designOf(source);
  pairs(sheet, [
    ['Assembly', source.assembly],
    ['Serial', source.serial],
    ['Customer', unit.customer ?? 'not told by the setup any more'],
    ['Description', design?.description],
    ['Built', design === undefined ? undefined : buildWords(design)],
    ['Work order', unit.workOrder ?? undefined],
    ['Complaint', unit.complaint ?? undefined],
    ['Receipt', unit.received ? 'recorded' : 'not recorded'],
    ['Exported for', audience.for === 'customer' ? 'the customer' : 'the house'],
    ['Left out', audience.leftOut.length === 0 ? 'nothing' : { blocks: audience.leftOut.map((text) => ({ text })) }],
  ]);
  sites(source, sheet, design);
  yield;
  revisions(source.configuration, sheet);
}

function designOf({ configuration, assembly }: AuditSource): AssemblyDesign | undefined {
  const newest = configuration.findLast((revision) => revision.kind === 'assembly' && revision.name === assembly);
  return newest?.kind === 'assembly' ? newest.body : undefined;
}

function buildWords({ leadFree, assemblyReflows }: AssemblyDesign): string {
  const passes =
    typeof assemblyReflows === 'number'
      ? counted(assemblyReflows, 'reflow pass', 'reflow passes')
      : `reflow passes: top ${String(assemblyReflows.top)}, bottom ${String(assemblyReflows.bottom)}`;
  return `${leadFree ? 'lead-free' : 'not lead-free'}; ${passes} when built`;
}

function sites({ unit }: AuditSource, sheet: Report['sheet'], design: AssemblyDesign | undefined): void {
  sheet.part('Sites, and the devices aboard');
  if (unit.sites.length === 0) sheet.paragraph('No site of this unit is known.');
  const table = new SheetTable(sheet, [
    { title: 'Site', share: 8, head: true },
    { title: 'Part, side', share: 17 },
    { title: 'Pads', share: 20 },
    { title: 'Pitch, ball', share: 15 },
    { title: 'Joint', share: 14 },
    { title: 'Device aboard', share: 26 },
  ]);
  for (const { refdes, part, side, device, disputed, condition, alloys } of unit.sites) {
    const site = design?.sites.find((one) => one.refdes === refdes);
    table.row([
      refdes,
      { blocks: [{ text: part ?? 'not in the setup' }, { text: sideWords(side) }] },
      site === undefined
        ? 'not in the setup'
        : `${String(site.pads)} of ${figure(site.padDiameterMm, 'mm')}, ${figure(site.padCopperUm, 'µm')} copper, ${site.finish.toUpperCase()}`,
      site === undefined ? '' : `${figure(site.ballPitchMm, 'mm')}, ${figure(site.ballDiameterMm, 'mm')}`,
      alloys.join(', '),
      {
        blocks: [
          {
            text:
              device === null ? 'none' : `${device}${disputed ? ' (disputed: its own record has it elsewhere)' : ''}`,
          },
          { text: `site ${condition}` },
        ],
      },
    ]);
  }
  table.end();
}

function sideWords(side: Side | null): string {
  return side === null ? '' : `${side} side`;
}

/** Names that are printed one by one; a unit of thousands of entries may have been judged by many more revisions. */
const MOST = 60;

function revisions(configuration: readonly StoredRevision[], sheet: Report['sheet']): void {
  sheet.part('Judged by');
  sheet.paragraph(
    'Revisions of the setup that the entries were judged by, as name and revision; the JSON file has their content.',
  );
  const kinds = [...new Set(configuration.map(({ kind }) => kind))];
  pairs(
    sheet,
    kinds.map((kind) => {
      const names = configuration
        .filter((one) => one.kind === kind)
        .map(({ name, revision }) => `${name} r${String(revision)}`);
      return [kind, listed(names, MOST)] as const;
    }),
  );
}
