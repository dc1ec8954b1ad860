const CMAP = 0x636d6170;
const SEGMENTED_COVERAGE = 12;

/**
 * Which characters a TrueType font has a glyph for, by its `cmap` table of format 12 (OpenType, chapter cmap).
 * @throws Error for a font without such a table
 */
export function glyphCover(font: Uint8Array): (codePoint: number) => boolean {
  const view = new DataView(font.buffer, font.byteOffset, font.byteLength);
  const ranges = groupsOf(view, coverageTable(view, cmapOffset(view)));
  return (codePoint) => isWithin(ranges, codePoint);
}

function cmapOffset(view: DataView): number {
  const tables = view.getUint16(4);
  for (let table = 0; table < tables; table++) {
    const record = 12 + 16 * table;
    if (view.getUint32(record) === CMAP) return view.getUint32(record + 8);
  }
  throw new Error('the font has no cmap table: take one of TrueType outlines');
}

function coverageTable(view: DataView, cmap: number): number {
  const encodings = view.getUint16(cmap + 2);
  for (let encoding = 0; encoding < encodings; encoding++) {
    const table = cmap + view.getUint32(cmap + 4 + 8 * encoding + 4);
    if (view.getUint16(table) === SEGMENTED_COVERAGE) return table;
  }
  throw new Error('the font has no cmap of format 12: take one that covers all of Unicode');
}

/** First and last code point of each group, ascending. */
function groupsOf(view: DataView, table: number): readonly (readonly [number, number])[] {
  return Array.from({ length: view.getUint32(table + 12) }, (_, group) => {
    const at = table + 16 + 12 * group;
    return [view.getUint32(at), view.getUint32(at + 4)] as const;
  });
}

function isWithin(ranges: readonly (readonly [number, number])[], codePoint: number): boolean {
  let [low, high] = [0, ranges.length - 1];
  while (low <= high) {
    const middle = (low + high) >> 1;
    const [first = 0, last = 0] = ranges[middle] ?? [];
    if (codePoint < first) high = middle - 1;
    else if (codePoint > last) low = middle + 1;
    else return true;
  }
  return false;
}
