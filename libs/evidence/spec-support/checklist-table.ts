import { ChecklistRow } from '../checklist/checklist-row.js';
import { CHECKLIST_STANDARDS } from '../checklist/checklist-standards.js';

/** The checklist as Markdown tables, one for each standard; cells are not padded. */
export function checklistTables(rows: readonly ChecklistRow[]): string {
  return Object.entries(CHECKLIST_STANDARDS)
    .map(([key, { name, edition, title }]) => {
      const own = rows.filter(({ standard }) => standard === key).map(rowText);
      const head = [
        'clause',
        'what it is after',
        'in the JSON',
        'in the PDF',
        'how to look',
        'what the house does besides',
      ];
      return [`### ${name} (${edition}): ${title}`, '', line(head), line(head.map(() => '---')), ...own].join('\n');
    })
    .join('\n\n');
}

function rowText({ clause, asks, shownIn, howToCheck, besides }: ChecklistRow): string {
  return line([
    clause,
    asks,
    shownIn.json.map((pointer) => `\`${pointer}\``).join(' '),
    shownIn.pdf,
    howToCheck,
    besides,
  ]);
}

function line(cells: readonly string[]): string {
  return `| ${cells.join(' | ')} |`;
}
