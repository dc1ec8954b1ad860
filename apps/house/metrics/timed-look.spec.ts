import { Gauge, Registry } from 'prom-client';
import { TimedLook } from './timed-look.js';

const SETTINGS = { keepMs: 5_000, patienceMs: 50 };

/** A part that answers when the test says so, over a clock that the test drives. */
function setUp() {
  const registry = new Registry();
  const plain = new Gauge({ name: 'waiting', help: '-', registers: [registry] });
  const labelled = new Gauge({ name: 'open', help: '-', labelNames: ['reason'], registers: [registry] });
  const up = new Gauge({ name: 'up', help: '-', labelNames: ['part'], registers: [registry] });
  const time = { nowMs: 0 };
  const answers: { give: (figure: number) => void; fail: () => void }[] = [];
  const look = () =>
    new Promise<() => void>((resolve, reject) => {
      answers.push({
        give: (figure) => {
          resolve(() => {
            plain.set(figure);
            labelled.set({ reason: 'r' }, figure);
          });
        },
        fail: () => {
          reject(new Error('away'));
        },
      });
    });
  const part = { name: 'p', plain: [plain], labelled: [labelled], look };
  const timed = new TimedLook(part, up, SETTINGS, () => time.nowMs);
  const told = async (): Promise<string[]> =>
    (await registry.metrics()).split('\n').filter((line) => line !== '' && !line.startsWith('#'));
  return { timed, time, answers, told };
}

const THERE = (figure: number): string[] => [`waiting ${figure}`, `open{reason="r"} ${figure}`, 'up{part="p"} 1'];
const NOTHING = ['up{part="p"} 0'];

describe('looking for figures', () => {
  it('tells nothing before it has looked, then what it found, for a while', async () => {
    const { timed, time, answers, told } = setUp();
    expect(await told()).toEqual(NOTHING);
    const both = [timed.refresh(), timed.refresh()];
    expect(answers).toHaveLength(1);
    answers[0]?.give(7);
    await Promise.all(both);
    expect(await told()).toEqual(THERE(7));
    time.nowMs = 4_999;
    await timed.refresh();
    expect(answers).toHaveLength(1);
    time.nowMs = 5_000;
    const again = timed.refresh();
    answers[1]?.give(8);
    await again;
    expect(await told()).toEqual(THERE(8));
  });

  it('tells nothing old where the look fails, and looks again at once', async () => {
    const { timed, time, answers, told } = setUp();
    const first = timed.refresh();
    answers[0]?.give(7);
    await first;
    time.nowMs = 5_000;
    const failing = timed.refresh();
    answers[1]?.fail();
    await failing;
    expect(await told()).toEqual(NOTHING);
    const next = timed.refresh();
    answers[2]?.give(9);
    await next;
    expect(await told()).toEqual(THERE(9));
  });

  it('waits for no longer than it may, and does not ask twice at once', async () => {
    const { timed, time, answers, told } = setUp();
    await timed.refresh();
    expect(await told()).toEqual(NOTHING);
    time.nowMs = 10_000;
    await timed.refresh();
    expect(answers).toHaveLength(1);
    answers[0]?.give(7);
    await new Promise(setImmediate);
    expect(await told()).toEqual(NOTHING);
    const next = timed.refresh();
    answers[1]?.give(8);
    await next;
    expect(await told()).toEqual(THERE(8));
  });
});
