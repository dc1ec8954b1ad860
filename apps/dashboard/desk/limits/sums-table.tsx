import { type CustomerSums, type Sums, sumOf } from './what-if-sums.js';

const COLUMNS: readonly (readonly [keyof Sums, string])[] = [
  ['held', 'Holds raised'],
  ['heldAlready', 'On hold for it already'],
  ['warned', 'Warned of'],
  ['lifted', 'Holds withdrawn, or marked where worked on'],
  ['eased', 'Better otherwise'],
];

/** What would change by customer, and together; what would happen to nobody has no column. */
export function SumsTable({ rows }: { readonly rows: readonly CustomerSums[] }) {
  const all = sumOf(rows);
  const columns = COLUMNS.filter(([fate]) => all[fate] > 0);
  return (
    <div className="scroll-x" role="region" aria-label="What would change, by customer" tabIndex={0}>
      <table className="rows sums-table">
        <thead>
          <tr>
            <th scope="col">Customer</th>
            {columns.map(([fate, title]) => (
              <th key={fate} scope="col" className="number">
                {title}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <SumsRow key={row.customer} title={row.customer} sums={row} columns={columns} />
          ))}
        </tbody>
        <tfoot>
          <SumsRow title="Together" sums={all} columns={columns} />
        </tfoot>
      </table>
    </div>
  );
}

interface SumsRowProps {
  readonly title: string;
  readonly sums: Sums;
  readonly columns: typeof COLUMNS;
}

function SumsRow({ title, sums, columns }: SumsRowProps) {
  return (
    <tr>
      <th scope="row">{title}</th>
      {columns.map(([fate]) => (
        <td key={fate} className="number">
          {sums[fate]}
        </td>
      ))}
    </tr>
  );
}
