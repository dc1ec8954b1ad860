import 'reflect-metadata';
import { ShapePipe } from '../http/shape-pipe.js';
import { FieldProblem, ProblemError } from '../http/problem.js';
import { sampleAssembly } from '../spec-support/sample-setup.js';
import { AssemblyBody, assemblyProblems } from './assembly-body.js';
import { LimitBody, limitProblems } from './limit-body.js';
import { OperatorBody } from './operator-body.js';
import { ProfileBody, profileProblems } from './profile-body.js';

async function shape<T extends object>(metatype: new () => T, body: unknown): Promise<T> {
  const shaped = await new ShapePipe().transform(body, { type: 'body', metatype });
  if (!(shaped instanceof metatype)) throw new Error('another class came out');
  return shaped;
}

async function pointersOf(metatype: new () => object, body: unknown): Promise<string[]> {
  try {
    await shape(metatype, body);
  } catch (error) {
    if (error instanceof ProblemError) return (error.document.errors ?? []).map(({ pointer }) => pointer);
    throw error;
  }
  return [];
}

function pointers(problems: readonly FieldProblem[]): string[] {
  return problems.map(({ pointer }) => pointer);
}

describe('the body of an assembly', () => {
  const sample = sampleAssembly();
  const [u1, u2] = sample.sites;

  it.each([0, 20, { top: 1, bottom: 2 }])('takes %j passes', async (assemblyReflows) => {
    expect(await pointersOf(AssemblyBody, { ...sample, assemblyReflows })).toEqual([]);
  });

  it.each([-1, 21, 1.5, '1', null, {}, { top: 1 }, { top: 1, bottom: -1 }, { top: 1, bottom: 1, left: 1 }, [1, 2]])(
    'refuses %j passes',
    async (assemblyReflows) => {
      expect(await pointersOf(AssemblyBody, { ...sample, assemblyReflows })).toEqual(['/assemblyReflows']);
    },
  );

  it.each([
    ['no sites', [], ['/sites']],
    ['a site that is null', [u1, null], ['/sites', '/sites/1']],
    ['a site that is a list', [[u1]], ['/sites']],
    ['a site that lacks its side', [{ ...u1, side: undefined }], ['/sites/0/side']],
    [
      'a neighbour with a member too many',
      [{ ...u1, neighbours: [{ refdes: 'U2', gapMm: 1, mm: 1 }] }, u2],
      ['/sites/0/neighbours/0/mm'],
    ],
  ])('refuses %s', async (_what, sites, expected) => {
    expect([...new Set(await pointersOf(AssemblyBody, { ...sample, sites }))]).toEqual(expected);
  });

  it('names sites that clash and neighbours that point nowhere', async () => {
    const near = (refdes: string) => ({ refdes, gapMm: 2 });
    const body = await shape(AssemblyBody, {
      ...sample,
      sites: [{ ...u1, neighbours: [near('U1'), near('U2'), near('U9'), near('U2')] }, u2, { ...u2, refdes: 'U1' }],
    });
    expect(pointers(assemblyProblems('BRD-1', body))).toEqual([
      '/sites/2/refdes',
      '/sites/0/neighbours/0/refdes',
      '/sites/0/neighbours/2/refdes',
      '/sites/0/neighbours/3/refdes',
    ]);
    expect(pointers(assemblyProblems('devices', await shape(AssemblyBody, sample)))).toEqual(['/assembly']);
    expect(assemblyProblems('BRD-1', await shape(AssemblyBody, sample))).toEqual([]);
  });
});

describe('the body of a limit', () => {
  const limit = { unit: 'x', action: 'hold', source: 'Policy' };
  const problemsOf = async (given: object) => pointers(limitProblems(await shape(LimitBody, { ...limit, ...given })));

  it.each([
    ['site-reworks', 0],
    ['pad-copper-min', 12.5],
    ['body-peak-max', -5],
    ['method-allowed', ['braid', 'vacuum']],
    ['flatness-max', 0.1],
    ['flatness-max', [{ pitchMm: 0.5, max: 0.08 }]],
  ])('takes for %s: %j', async (kind, allowed) => {
    expect(await problemsOf({ kind, allowed })).toEqual([]);
  });

  it.each([
    ['site-reworks', 1.5],
    ['site-reworks', -1],
    ['site-reworks', ['braid']],
    ['pad-copper-min', '12'],
    ['method-allowed', 3],
    ['method-allowed', []],
    ['method-allowed', ['braid', 'braid']],
    ['method-allowed', ['chisel']],
    ['flatness-max', 0],
    ['flatness-max', []],
    ['flatness-max', [{ pitchMm: 0.5 }]],
    ['flatness-max', [{ pitchMm: 0.5, max: 0.1, min: 0 }]],
    [
      'flatness-max',
      [
        { pitchMm: 0.5, max: 0.1 },
        { pitchMm: 0.5, max: 0.2 },
      ],
    ],
  ])('refuses for %s: %j', async (kind, allowed) => {
    expect(await problemsOf({ kind, allowed })).toEqual(['/allowed']);
  });

  it('lets only budgets spend what is merely possible', async () => {
    expect(await problemsOf({ kind: 'device-excursions', allowed: 3, countPossible: true })).toEqual([]);
    expect(await problemsOf({ kind: 'guard-band', allowed: 5, countPossible: true })).toEqual(['/countPossible']);
  });

  it('needs a source that says something', async () => {
    const body = { ...limit, kind: 'guard-band', allowed: 5 };
    expect(await pointersOf(LimitBody, { ...body, source: ' ' })).toEqual(['/source']);
    expect(await pointersOf(LimitBody, { ...body, scope: { country: 'x' } })).toEqual(['/scope/country']);
  });
});

describe('other bodies', () => {
  it('refuses a window that nothing fits into and a neighbour with two peaks', async () => {
    const body = await shape(ProfileBody, {
      purpose: 'removal',
      alloy: 'SAC305',
      window: { peakMinC: 250, peakMaxC: 240, aboveLiquidusMinS: 60, aboveLiquidusMaxS: 30 },
      neighbourPeaks: [
        { refdes: 'U2', peakC: 150 },
        { refdes: 'U2', peakC: 160 },
      ],
    });
    expect(pointers(profileProblems(body))).toEqual([
      '/window/peakMaxC',
      '/window/aboveLiquidusMaxS',
      '/neighbourPeaks/1/refdes',
    ]);
  });

  it('refuses a day that the calendar has not and a skill that nobody teaches', async () => {
    const qualifications = [{ skill: 'juggling', validUntil: '2030-02-30T00:00:00Z' }];
    expect(await pointersOf(OperatorBody, { qualifications })).toEqual([
      '/qualifications/0/skill',
      '/qualifications/0/validUntil',
    ]);
  });
});
