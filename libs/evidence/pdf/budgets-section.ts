import { BudgetView } from '../../ledger/views/budget-view.js';
import { scale } from './axis.js';
import { INK } from './page-style.js';
import { Report } from './report.js';
import { CellDrawing } from './laid-cell.js';
import { SheetTable } from './sheet-table.js';
import { Sheet } from './sheet.js';
import { BUDGET_WORDS, shownSubject } from './shown-values.js';

/** Rows after which full pages may leave. */
const PACE = 25;

/** What every subject has spent of every limit that is spent by counting, and what the rule is. */
export function* budgetsSection({ source, sheet }: Report): Generator<undefined, void> {
  sheet.begin('Budgets', 2, 150);
  sheet.paragraph(
    'Used: counted so far. Reserved: held back by open clearances. Possible: not measured and not ruled out; shown, and ' +
      'spent only where the rule says so. Bars: filled is used, hatched is reserved, dotted outline is possible; the upright stroke is what is allowed.',
  );
  const { budgets } = source.unit;
  if (budgets.length === 0) sheet.paragraph('Nothing is known of this unit that a limit counts.');
  const table = new SheetTable(sheet, [
    { title: 'Subject, limit', share: 24, head: true },
    { title: 'Used', share: 7, right: true },
    { title: 'Reserved', share: 9, right: true },
    { title: 'Possible', share: 9, right: true },
    { title: 'Allowed', share: 8, right: true },
    { title: 'Left', share: 6, right: true },
    { title: 'How it is known', share: 18 },
    { title: 'Rule and its source', share: 32 },
  ]);
  for (const [index, budget] of budgets.entries()) {
    table.row(rowOf(sheet, budget));
    if (index % PACE === PACE - 1) yield;
  }
  table.end();
}

function rowOf(sheet: Sheet, budget: BudgetView): Parameters<SheetTable['row']>[0] {
  const { subject, limit, used, reserved, possible, allowed, remaining } = budget;
  return [
    {
      blocks: [{ text: shownSubject(subject) }, { text: BUDGET_WORDS[limit], face: 'regular' }],
      drawing: bar(sheet, budget),
    },
    String(used),
    String(reserved),
    String(possible),
    allowed === null ? 'no limit' : String(allowed),
    {
      blocks: [{ text: remaining === null ? '—' : String(remaining), face: (remaining ?? 0) < 0 ? 'bold' : 'regular' }],
    },
    { blocks: [{ text: budget.basis }, { text: inputsOf(budget) }] },
    { blocks: ruleOf(budget).map((text) => ({ text })) },
  ];
}

function inputsOf({ inputs: { prior, measured, declared, inferred } }: BudgetView): string {
  const parts = [
    `${String(prior.count)} before (${prior.basis})`,
    ...(measured === 0 ? [] : [`${String(measured)} measured`]),
    ...(declared === 0 ? [] : [`${String(declared)} declared`]),
    ...(inferred === 0 ? [] : [`${String(inferred)} inferred`]),
  ];
  return parts.join(' + ');
}

function ruleOf({ rule, remaining }: BudgetView): string[] {
  if (rule === null) return ['The setup has no such limit.'];
  const { name, revision, source, action, countPossible, concession } = rule;
  return [
    `${name} r${String(revision)}: over it, ${action === 'hold' ? 'a hold' : 'a warning'}${countPossible ? '; possible ones count' : ''}`,
    source,
    ...(concession === undefined ? [] : [`concession ${concession}`]),
    ...(remaining !== null && remaining < 0 ? ['More is spent or reserved than is allowed.'] : []),
  ];
}

const HEIGHT = 9;
const THICK = 5;

function bar({ doc }: Sheet, { used, reserved, possible, allowed }: BudgetView): CellDrawing {
  return {
    height: HEIGHT,
    draw: (left, top, width) => {
      const most = Math.max(1, allowed ?? 0, used + reserved + possible);
      const x = scale(0, most, left, left + width - 4);
      const y = top + 2;
      const part = (from: number, to: number): [number, number, number, number] => [x(from), y, x(to) - x(from), THICK];
      doc.undash().lineWidth(0.5).strokeColor(INK.text);
      if (used > 0) doc.rect(...part(0, used)).fill(INK.soft);
      if (reserved > 0) hatch(doc, part(used, used + reserved));
      if (possible > 0) {
        doc
          .dash(1, { space: 1 })
          .rect(...part(used + reserved, used + reserved + possible))
          .stroke()
          .undash();
      }
      doc.rect(...part(0, allowed ?? most)).stroke();
      if (allowed !== null)
        doc
          .lineWidth(1.3)
          .moveTo(x(allowed), y - 2)
          .lineTo(x(allowed), y + THICK + 2)
          .stroke();
    },
  };
}

function hatch(doc: PDFKit.PDFDocument, [x, y, width, height]: [number, number, number, number]): void {
  doc.save().rect(x, y, width, height).clip();
  for (let at = x - height; at < x + width; at += 2.5)
    doc
      .moveTo(at, y + height)
      .lineTo(at + height, y)
      .stroke();
  doc.restore();
}
