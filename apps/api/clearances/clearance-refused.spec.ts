import { PlanReason } from '../../../libs/domain/clearance/plan-verdict.js';
import { clearanceRefused } from './clearance-refused.js';

it('tells of a hundred reasons at most, and how many there are', () => {
  const reason = (n: number): PlanReason => ({
    code: 'hold-open',
    subject: { kind: 'unit', assembly: 'BRD-1', serial: 'S1' },
    hold: `H-${String(n)}`,
    detail: 'by-hand: odd.',
    remedy: 'Have quality decide.',
  });
  const reasons = Array.from({ length: 150 }, (_, n) => reason(n));
  expect(clearanceRefused({ reasons, warnings: [] }).document).toMatchObject({
    status: 409,
    detail: 'hold-open: by-hand: odd. Have quality decide. (and 149 more, see reasons)',
    reasons: reasons.slice(0, 100),
  });
  expect(clearanceRefused({ reasons: reasons.slice(0, 1), warnings: [] }).document.detail).not.toContain('more');
});
