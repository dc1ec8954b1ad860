import {
  extentOf,
  type FreshPage,
  type Listed,
  lightened,
  markAt,
  PAGE_ROWS,
  placeOf,
  renewed,
  rowAt,
  type ShownPage,
  withFresh,
} from './desk-pages.js';

interface Row extends Listed {
  readonly stage?: string;
}
type List = readonly ShownPage<Row>[];

const page = (ids: string, nextCursor: string | null = null): FreshPage<Row> => ({
  items: ids.split(' ').map((id) => ({ id })),
  nextCursor,
});
const full = (from: number, nextCursor: string | null): FreshPage<Row> =>
  page(Array.from({ length: PAGE_ROWS }, (_, n) => `h${from + n}`).join(' '), nextCursor);
const idsOn = (list: List, n = 0): string => (list[n]?.rows ?? []).map(({ id }) => id).join(' ');
const news = (list: List, n = 0) => ({ arrived: list[n]?.arrived, gone: [...(list[n]?.gone ?? [])] });

const abc = withFresh<Row>([], 0, page('a b c'), false);

describe('The list of the desk, held under the pointer', () => {
  it('moves no row: what came stays out and is counted, what went stays in and is marked', () => {
    const held = withFresh(abc, 0, page('x a y c'), true);
    expect(idsOn(held)).toBe('a b c');
    expect(news(held)).toEqual({ arrived: 2, gone: ['b'] });
    expect(rowAt(held, 1)).toEqual({ row: { id: 'b' }, gone: true });
    expect(idsOn(renewed(held))).toBe('x a y c');
    expect(news(renewed(held))).toEqual({ arrived: 0, gone: [] });
  });

  it('shows what else changed where it stands', () => {
    const changed = { items: [{ id: 'b', stage: 'decided' }, { id: 'c' }], nextCursor: null };
    const held = withFresh(abc, 0, changed, true);
    expect(rowAt(held, 1)).toEqual({ row: { id: 'b', stage: 'decided' }, gone: false });
    expect(news(held)).toEqual({ arrived: 0, gone: ['a'] });
  });

  it('is as the answer has it once it is let go, and the same list where nothing is new', () => {
    const fresh = page('x a b c');
    const held = withFresh(abc, 0, fresh, true);
    expect(withFresh(held, 0, fresh, true)).toBe(held);
    const free = withFresh(held, 0, fresh, false);
    expect(idsOn(free)).toBe('x a b c');
    expect(withFresh(free, 0, fresh, false)).toBe(free);
    expect(withFresh(free, 0, fresh, true)).toBe(free);
  });

  it('does not take what moved up from the next page for new, nor what was pushed there for gone', () => {
    const first = withFresh<Row>([], 0, full(0, 'c100'), false);
    const oneWent = withFresh(
      first,
      0,
      page(
        full(1, 'c')
          .items.map(({ id }) => id)
          .join(' '),
        'c101',
      ),
      true,
    );
    expect(news(oneWent)).toEqual({ arrived: 0, gone: ['h0'] });
    const oneCame = withFresh(first, 0, page(`x ${idsOn(first).replace(/ h99$/, '')}`, 'c99'), true);
    expect(news(oneCame)).toEqual({ arrived: 1, gone: [] });
    expect(oneCame[0]?.next).toBe('c100');
  });
});

describe('The list of the desk, page by page', () => {
  const two = withFresh(withFresh<Row>([], 0, full(0, 'c100'), false), 1, page('y z'), false);

  it('knows how far it goes and where each hold stands', () => {
    expect(extentOf<Row>([])).toEqual({ known: 0, more: true });
    expect(extentOf(two.slice(0, 1))).toEqual({ known: 100, more: true });
    expect(extentOf(two)).toEqual({ known: 102, more: false });
    expect(markAt(two, 101)).toEqual({ id: 'z', dueAt: null });
    expect(markAt(two, 102)).toBeUndefined();
    expect([placeOf(two, 'z'), placeOf(two, 'h7'), placeOf(two, 'no')]).toEqual([101, 7, -1]);
  });

  it('ends where it has become shorter', () => {
    expect(withFresh(two, 0, page('a'), false)).toHaveLength(1);
  });

  it('keeps only what far pages are called, and takes them anew when they come back', () => {
    const light = lightened(two, 7, 8);
    expect(rowAt(light, 101)).toBeUndefined();
    expect(markAt(light, 101)?.id).toBe('z');
    expect(lightened(light, 7, 8)).toBe(light);
    expect(lightened(two, 0, 0)).toBe(two);
    const back = withFresh(light, 1, page('z q'), true);
    expect(idsOn(back, 1)).toBe('z q');
    expect(news(back, 1)).toEqual({ arrived: 0, gone: [] });
  });
});
