import { parseTraceparent } from './traceparent.js';

const TRACE = '0af7651916cd43dd8448eb211c80319c';
const SPAN = 'b7ad6b7169203331';

describe('a traceparent', () => {
  it('says where in a trace somebody is, and whether it is recorded', () => {
    expect(parseTraceparent(`00-${TRACE}-${SPAN}-01`)).toEqual({ traceId: TRACE, spanId: SPAN, isSampled: true });
    expect(parseTraceparent(`00-${TRACE}-${SPAN}-02`)).toMatchObject({ isSampled: false });
    expect(parseTraceparent(`00-${TRACE}-${SPAN}-03`)).toMatchObject({ isSampled: true });
  });

  it.each([
    ['nothing', ''],
    ['capitals', `00-${TRACE.toUpperCase()}-${SPAN}-01`],
    ['a trace of noughts', `00-${'0'.repeat(32)}-${SPAN}-01`],
    ['a span of noughts', `00-${TRACE}-${'0'.repeat(16)}-01`],
    ['another version', `01-${TRACE}-${SPAN}-01`],
    ['more than there is', `00-${TRACE}-${SPAN}-01-more`],
    ['two of them', `00-${TRACE}-${SPAN}-01,00-${TRACE}-${SPAN}-01`],
  ])('is not %s', (_, text) => {
    expect(parseTraceparent(text)).toBeUndefined();
  });
});
