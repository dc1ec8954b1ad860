import { bases, book, figures, ToldBook } from '../../../test/support/domain-book.js';
import { heat, mute, ofDevice, onUnit, tc } from '../../../test/support/domain-events.js';
import { boardDesign, limitRule, profileData, rulesOf, siteDesign } from '../../../test/support/domain-rules.js';

const board = onUnit();
const came = board.received({ priorReflows: 0 });
const reached = (told: ToldBook, refdes: string) => ({
  site: figures(told.site(refdes).excursions),
  device: told.world.devices.has(`BRD:0001:${refdes}`)
    ? figures(told.device(`BRD:0001:${refdes}`).excursions)
    : { used: 0, possible: 0 },
});
const nothing = { used: 0, possible: 0 };
const one = { used: 1, possible: 0 };
const maybe = { used: 0, possible: 1 };

describe('neighbours of hot gas', () => {
  it('count where they were measured hot, on either side of the board', () => {
    const readings = heat(tc('joint', 215, { refdes: 'U2' }), tc('joint', 213, { refdes: 'U3' }));
    const told = book([came, board.removed('U1', { profile: mute, heat: readings })]);
    expect([reached(told, 'U2'), reached(told, 'U3')]).toEqual([
      { site: one, device: one },
      { site: one, device: one },
    ]);
    expect(bases(told.device('BRD:0001:U3').excursions)).toEqual(['measured']);
    expect(told.warnings()).not.toContain('neighbour-possible devices/BRD:0001:U2');
  });

  it('are not cleared by a profile that was qualified while another site was heated', () => {
    const elsewhere = profileData({ site: 'U4', neighbourPeaks: [{ refdes: 'U2', peakC: 150 }] });
    const told = book([came, board.removed('U1', { profile: mute })], rulesOf({ profile: { 'mute@1': elsewhere } }));
    expect(reached(told, 'U2')).toEqual({ site: maybe, device: maybe });
    expect(told.warnings()).toContain('neighbour-possible devices/BRD:0001:U2');
  });

  it('are not held for what is only possible, even where they were over their limit before', () => {
    const rules = rulesOf({ limit: { ours: limitRule('device-excursions', { allowed: 1, scope: { refdes: 'U2' } }) } });
    const spent = board.received({ devices: [{ refdes: 'U3', priorExcursions: 0 }] });
    const told = book([spent, board.removed('U1', { profile: mute })], rules);
    expect(told.holds()).toEqual([]);
  });

  it('are clear where they were measured cool, whatever the profile was qualified with', () => {
    const rules = rulesOf({ profile: { 'mute@1': profileData({ neighbourPeaks: [{ refdes: 'U2', peakC: 230 }] }) } });
    const readings = heat(tc('joint', 190, { refdes: 'U2' }));
    const told = book([came, board.removed('U1', { profile: mute, heat: readings })], rules);
    expect(reached(told, 'U2')).toEqual({ site: nothing, device: nothing });
  });

  it('count where the profile says that they pass the line, exactly on it included', () => {
    const rules = rulesOf({
      profile: {
        'mute@1': profileData({
          neighbourPeaks: [
            { refdes: 'U2', peakC: 212 },
            { refdes: 'U3', peakC: 211.9 },
          ],
        }),
      },
    });
    const told = book([came, board.removed('U1', { profile: mute })], rules);
    expect(reached(told, 'U2')).toEqual({ site: one, device: one });
    expect(bases(told.device('BRD:0001:U2').excursions)).toEqual(['inferred']);
    expect(reached(told, 'U3')).toEqual({ site: nothing, device: nothing });
    expect(told.warnings().filter((text) => text.startsWith('neighbour'))).toEqual([]);
  });

  it('otherwise have a possible excursion: beside the tally, warned about, no hold', () => {
    const told = book([came, board.removed('U1', { profile: mute })]);
    expect([reached(told, 'U2'), reached(told, 'U3')]).toEqual([
      { site: maybe, device: maybe },
      { site: maybe, device: maybe },
    ]);
    expect(told.warnings().filter((text) => text.startsWith('neighbour'))).toEqual([
      'neighbour-possible devices/BRD:0001:U2',
      'neighbour-possible devices/BRD:0001:U3',
    ]);
    expect(told.holds()).toEqual([]);
  });

  it('are possible where the profile is not in the setup', () => {
    const told = book([came, board.removed('U1', { profile: { name: 'unheard', revision: '9' } })]);
    expect(reached(told, 'U2').device).toEqual(maybe);
    expect(told.warnings()).toContain('profile-unknown BRD/0001');
  });

  it('do not include sites that are not listed, nor the heated site itself', () => {
    const told = book([came, board.removed('U1', { profile: mute })]);
    expect(reached(told, 'U4')).toEqual({ site: nothing, device: nothing });
    expect(reached(told, 'U1')).toEqual({ site: one, device: one });
  });

  it('include a site that is not listed where a thermocouple on it was hot', () => {
    const told = book([came, board.removed('U1', { heat: heat(tc('joint', 220, { refdes: 'U4' })) })]);
    expect(reached(told, 'U4')).toEqual({ site: one, device: one });
  });

  it('are each judged by their own alloy (Sn63Pb37: 183 - 5 = 178 C, from solder makers)', () => {
    const sites = boardDesign().sites.map((site) =>
      site.refdes === 'U2' ? { ...site, jointAlloy: 'Sn63Pb37' } : site,
    );
    const readings = heat(tc('joint', 178, { refdes: 'U2' }), tc('joint', 178, { id: 'b', refdes: 'U3' }));
    const told = book(
      [came, board.removed('U1', { heat: readings })],
      rulesOf({ assembly: { BRD: boardDesign({ sites }) } }),
    );
    expect([reached(told, 'U2').device, reached(told, 'U3').device]).toEqual([one, nothing]);
  });

  it.each(['removal', 'placement', 'touch-up'])('are looked at in a %s', (step) => {
    const steps = {
      removal: [board.removed('U1', { profile: mute })],
      placement: [board.removed('U1'), board.placed('U1', 'N1', { profile: mute })],
      'touch-up': [board.heated('U1', { profile: mute })],
    }[step];
    expect(reached(book([came, ...(steps ?? [])]), 'U2').device).toEqual(maybe);
  });
});

describe('an empty neighbouring site', () => {
  const emptied = [came, board.removed('U2', { fate: 'keep', device: 'K2' })];

  it('is judged as a site; the device that was on it is out of reach', () => {
    const before = figures(book(emptied).site('U2').excursions).used;
    const told = book([...emptied, board.removed('U1', { heat: heat(tc('joint', 230, { refdes: 'U2' })) })]);
    expect(figures(told.site('U2').excursions).used).toBe(before + 1);
    expect(told.spent('K2')).toBe(book(emptied).spent('K2'));
  });

  it('that nobody measured has a possible excursion, and is warned about', () => {
    const told = book([...emptied, board.removed('U1', { profile: mute })]);
    expect(figures(told.site('U2').excursions).possible).toBe(1);
    expect(told.warnings()).toContain('neighbour-possible BRD/0001#U2');
  });
});

// A blade tip and a vacuum nozzle heat what they touch (common practice, no source).
describe('neighbours of a braid and a vacuum nozzle', () => {
  it.each(['braid', 'vacuum'] as const)('of a %s are not looked at', (method) => {
    const told = book([came, board.removed('U1'), board.dressed('U1', { method, profile: mute })]);
    expect(reached(told, 'U2')).toEqual({ site: nothing, device: nothing });
    expect(told.warnings().filter((text) => text.startsWith('neighbour'))).toEqual([]);
  });

  it('are counted all the same where one was measured hot, since measurement wins', () => {
    const readings = heat(tc('joint', 230, { refdes: 'U2' }));
    const told = book([came, board.removed('U1'), board.dressed('U1', { heat: readings })]);
    expect(reached(told, 'U2').device).toEqual(one);
  });
});

// A coupon is heated with the whole site by a hot-gas nozzle (trade articles); a fountain heats an area (common practice,
// no source).
describe('neighbours of a coupon and a fountain', () => {
  it.each(['coupon', 'fountain'] as const)('of a %s are looked at as those of hot gas', (method) => {
    const told = book([came, board.removed('U1'), board.dressed('U1', { method, profile: mute })]);
    expect(reached(told, 'U2')).toEqual({ site: maybe, device: maybe });
  });
});

describe('a limit that counts possible excursions', () => {
  const possible = (allowed: number) =>
    rulesOf({
      limit: { careful: limitRule('device-excursions', { allowed, countPossible: true, scope: { refdes: 'U2' } }) },
    });

  it('is broken by one of them too many', () => {
    const steps = [came, board.heated('U1', { profile: mute }), board.heated('U1', { profile: mute })];
    expect(book(steps, possible(2)).holds()).toEqual([]);
    const told = book(steps, possible(1));
    expect(told.holds()).toEqual(['device-excursions devices/BRD:0001:U2']);
    expect(told.causes('device-excursions')[0]?.evidence).toMatchObject({ used: 2, allowed: 1 });
  });

  it('is an exception: other limits are not broken by what is merely possible', () => {
    const heats = Array.from({ length: 5 }, () => board.heated('U1', { profile: mute, heat: heat(tc('joint', 20)) }));
    const told = book([came, ...heats]);
    expect(figures(told.device('BRD:0001:U2').excursions)).toEqual({ used: 0, possible: 5 });
    expect(told.holds()).toEqual([]);
  });

  it('does not move what is counted', () => {
    const told = book([came, board.heated('U1', { profile: mute })], possible(0));
    expect(figures(told.device('BRD:0001:U2').excursions)).toEqual(maybe);
  });
});

describe('a profile that was qualified elsewhere', () => {
  it('on another assembly says nothing of the neighbours here', () => {
    const qualified = profileData({ assembly: 'OTHER', neighbourPeaks: [{ refdes: 'U2', peakC: 150 }] });
    const rules = rulesOf({
      profile: { 'mute@1': qualified },
      assembly: { OTHER: boardDesign({ sites: [siteDesign('U1')] }) },
    });
    const told = book([came, ofDevice('N1').received(), board.removed('U1', { profile: mute })], rules);
    expect(reached(told, 'U2').device).toEqual(maybe);
  });
});
