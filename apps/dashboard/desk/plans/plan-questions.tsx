import type { ReactNode } from 'react';
import type { Schemas } from '../api/client.js';
import { Deballing, FoldedLines, Lead, Neighbours, Reasons, Skill, Spent, Copper, Lines } from './plan-answers.js';
import { afterPlan, type BudgetLike, isAmong, sharedCautions, sharedReasons, spentBy } from './plan-figures.js';
import { withEntryWords } from '../units/unit-text.js';

export type PlanRow = Schemas['PlanRow'];

/** What the answers are measured against. */
export interface PlanMeasure {
  readonly plan: Schemas['MethodPlan'];
  /** Of the unit, and of the device that is to be placed. */
  readonly budgets: readonly BudgetLike[];
  /** The device whose excursions are spent; null where it is not chosen yet. */
  readonly device: string | null;
  readonly gapMm: (neighbour: string) => number | undefined;
  readonly copperLeastUm: number | undefined;
  readonly leadMostPct: number | undefined;
}

/** One question to each method. */
export interface PlanQuestion {
  readonly question: string;
  readonly answer: (row: PlanRow) => ReactNode;
  /** What the answer rests on: methods that have the same answer the same. */
  readonly restsOn: (row: PlanRow) => unknown;
}

/** Whether all methods answer a question alike, so that it need be answered only once. */
export function isAlike({ rows }: Schemas['MethodPlan'], { restsOn }: PlanQuestion): boolean {
  return new Set(rows.map((row) => JSON.stringify(restsOn(row)))).size === 1;
}

/** Every question, in the order in which an engineer asks them. */
export function planQuestions(measure: PlanMeasure): readonly PlanQuestion[] {
  const { plan } = measure;
  const shared = sharedCautions(plan.rows);
  const against = sharedReasons(plan.rows);
  const ownReasons = ({ reasons }: PlanRow) => reasons.filter((one) => !isAmong(against, one));
  const own = ({ cautions }: PlanRow) => cautions.filter((one) => !shared.includes(one));
  return [
    {
      question: against.length === 0 ? 'What stands against it' : 'And against this one',
      restsOn: ownReasons,
      answer: (row) => <Reasons reasons={ownReasons(row)} />,
    },
    ...spendingQuestions(measure),
    ...(plan.goal === 'reuse-device'
      ? [
          {
            question: 'Balls come off by',
            restsOn: ({ deballing, deballingOptions }: PlanRow) => [deballing, deballingOptions],
            answer: (row: PlanRow) => <Deballing row={row} />,
          },
        ]
      : []),
    {
      question: 'Time',
      restsOn: ({ minutes, passes }) => [Math.round(minutes), passes],
      answer: ({ minutes, passes }) => (
        <>
          <strong>{Math.round(minutes)} min</strong> in all, {passes} {passes === 1 ? 'pass' : 'passes'}
        </>
      ),
    },
    {
      question: 'Who may do all of it',
      restsOn: ({ skill, qualifiedOperators, missingSkills }) => [skill, qualifiedOperators, missingSkills],
      answer: (row) => <Skill row={row} />,
    },
    {
      question: 'Mind besides',
      restsOn: own,
      answer: (row) => <Lines lines={own(row)} />,
    },
    {
      question: 'What the trade knows',
      restsOn: ({ facts }) => facts,
      answer: ({ facts }) => (
        <FoldedLines fold="Facts" lines={facts.map(({ text, source }) => `${text} (${source})`)} />
      ),
    },
    {
      question: 'Where the figures come from',
      restsOn: ({ why }) => why,
      answer: ({ why }) => <FoldedLines fold="Inputs" lines={why.map(withEntryWords)} />,
    },
  ];
}

/** What cannot be bought back. */
function spendingQuestions(measure: PlanMeasure): readonly PlanQuestion[] {
  const { plan, budgets, device, gapMm, copperLeastUm, leadMostPct } = measure;
  const { refdes, goal } = plan;
  const ofSite = (question: string, limit: string, spent: (row: PlanRow) => number): PlanQuestion => ({
    question,
    restsOn: spent,
    answer: (row) => <Spent added={spent(row)} after={afterPlan(budgets, { limit, refdes }, spent(row))} />,
  });
  return [
    ofSite(`Reworks of ${refdes}`, 'site-reworks', ({ steps }) => spentBy(steps, 'siteReworks')),
    ofSite(`Dressings of ${refdes}`, 'site-dressings', ({ steps }) => spentBy(steps, 'siteDressings')),
    ofSite(`Excursions of ${refdes}`, 'site-excursions', ({ excursions }) => excursions.site),
    {
      question: goal === 'reuse-device' ? 'Excursions of the device' : 'Excursions of the new device',
      restsOn: ({ excursions }) => excursions.device,
      answer: ({ excursions }) => (
        <Spent
          added={excursions.device}
          after={afterPlan(budgets, { limit: 'device-excursions', device }, excursions.device)}
        />
      ),
    },
    {
      question: 'Neighbours',
      restsOn: ({ excursions }) => excursions.neighbours,
      answer: ({ excursions }) => <Neighbours neighbours={excursions.neighbours} gapMm={gapMm} />,
    },
    {
      question: 'Pad copper left',
      restsOn: ({ copperLeftUm, copperCertainty }) => [copperLeftUm?.toFixed(1), copperCertainty],
      answer: (row) => <Copper row={row} leastUm={copperLeastUm} />,
    },
    {
      question: 'Lead in the joint',
      restsOn: ({ leadPct }) => leadPct?.toFixed(3),
      answer: ({ leadPct }) => <Lead leadPct={leadPct} mostPct={leadMostPct} />,
    },
  ];
}
