import { PartData } from '../setup/setup-data.js';

/** Body of a package without its balls, mm, and whether it is built lead-free. */
export interface PackageBody {
  readonly lengthMm: number;
  readonly widthMm: number;
  readonly thicknessMm: number;
  readonly leadFree: boolean;
  /** Class temperature as its maker states it, C. */
  readonly classificationC?: PartData['classificationC'];
}

export interface ClassTemperature {
  readonly classC: number;
  readonly volumeMm3: number;
  readonly table: 'Pb-free' | 'SnPb';
  /** The row and column that gave the figure, in words. */
  readonly row: string;
  /** `declared`: the maker's own figure; `inferred`: from body size by the table. */
  readonly source: 'declared' | 'inferred';
  /** Where the table comes from, and how well it is known. */
  readonly reference: string;
}

interface Row {
  readonly name: string;
  readonly holds: (thicknessMm: number) => boolean;
  /** C, for a volume below 350 mm3, of 350 to 2000 mm3, above 2000 mm3. */
  readonly classC: readonly [number, number, number];
}

const LEAD_FREE_ROWS: readonly Row[] = [
  { name: 'below 1.6 mm', holds: (mm) => mm < 1.6, classC: [260, 260, 260] },
  { name: '1.6 to 2.5 mm', holds: (mm) => mm <= 2.5, classC: [260, 250, 245] },
  { name: 'above 2.5 mm', holds: () => true, classC: [250, 245, 245] },
];
/** The table has two columns; the second stands twice so that both tables read alike. */
const LEADED_ROWS: readonly Row[] = [
  { name: 'below 2.5 mm', holds: (mm) => mm < 2.5, classC: [235, 220, 220] },
  { name: '2.5 mm and above', holds: () => true, classC: [220, 220, 220] },
];
const LEAD_FREE_REFERENCE = 'J-STD-020 D/E, Table 4-2, published';
const LEADED_REFERENCE = 'J-STD-020 D/E, Table 4-1, from memory';

/**
 * Class temperature Tc of a package, C: the body temperature it was classified for. The volume is that of the body
 * without balls, rounded to a millionth of a mm3 so that binary fractions do not move a package over a boundary.
 * At exactly 2.5 mm revisions D and E of the standard are followed; revision C differs.
 * @throws RangeError where a length is no positive number, or a declared class is no finite number.
 */
export function classTemperature(body: PackageBody): ClassTemperature {
  for (const lengthMm of [body.lengthMm, body.widthMm, body.thicknessMm]) {
    if (!Number.isFinite(lengthMm) || lengthMm <= 0) throw new RangeError(`not a body length in mm: ${lengthMm}`);
  }
  const volumeMm3 = Math.round(body.lengthMm * body.widthMm * body.thicknessMm * 1e6) / 1e6;
  if (!Number.isFinite(volumeMm3)) throw new RangeError('the body is too large to have a volume');
  const table = body.leadFree ? 'Pb-free' : 'SnPb';
  if (body.classificationC !== undefined) {
    if (!Number.isFinite(body.classificationC)) throw new RangeError('the declared class is no temperature');
    const reference = "the part's maker, as set up";
    return { classC: body.classificationC, volumeMm3, table, row: 'declared', source: 'declared', reference };
  }
  const column = volumeMm3 < 350 ? 0 : volumeMm3 <= 2000 ? 1 : 2;
  const rows = body.leadFree ? LEAD_FREE_ROWS : LEADED_ROWS;
  const found = rows.find((row) => row.holds(body.thicknessMm));
  if (found === undefined) throw new RangeError('the last row of a class table takes every thickness');
  return {
    classC: found.classC[column],
    volumeMm3,
    table,
    row: `${found.name}, ${volumeColumn(column, body.leadFree)}`,
    source: 'inferred',
    reference: body.leadFree ? LEAD_FREE_REFERENCE : LEADED_REFERENCE,
  };
}

function volumeColumn(column: 0 | 1 | 2, leadFree: boolean): string {
  if (column === 0) return 'below 350 mm3';
  if (!leadFree) return '350 mm3 and above';
  return column === 1 ? '350 to 2000 mm3' : 'above 2000 mm3';
}
