import { profileRef } from '../../../libs/domain/setup/setup-data.js';
import { AssemblyBody, assemblyProblems } from '../../api/setup/assembly-body.js';
import { CopperRateBody, copperRateProblems } from '../../api/setup/copper-rate-body.js';
import { LimitBody, limitProblems } from '../../api/setup/limit-body.js';
import { OperatorBody } from '../../api/setup/operator-body.js';
import { PartBody } from '../../api/setup/part-body.js';
import { ProfileBody, profileProblems } from '../../api/setup/profile-body.js';
import { StationBody } from '../../api/setup/station-body.js';
import { FieldProblem } from '../service/service-problem.js';

/** A section of a setup file: names to records of one kind. */
export interface SetupSection {
  /** As the file calls it. */
  readonly name: string;
  /** One record of it, in words. */
  readonly kind: string;
  /** Where all of them are listed. */
  readonly list: string;
  /** Where one is put. */
  readonly path: (name: string) => string;
  readonly body: new () => object;
  /** What one field cannot show, by the rules that the service has; `body` is one of `body`. */
  readonly problems: (name: string, body: object) => readonly FieldProblem[];
}

function plain(name: string, kind: string, body: new () => object): Omit<SetupSection, 'problems'> {
  const list = `/v1/${name}`;
  return { name, kind, list, body, path: (record) => `${list}/${encodeURIComponent(record)}` };
}

const none = (): readonly FieldProblem[] => [];

/** In the order in which they are entered: what others name comes first. */
export const SETUP_SECTIONS: readonly SetupSection[] = [
  { ...plain('parts', 'part', PartBody), problems: none },
  {
    ...plain('assemblies', 'assembly', AssemblyBody),
    problems: (name, body) => (body instanceof AssemblyBody ? assemblyProblems(name, body) : []),
  },
  {
    ...plain('profiles', 'profile', ProfileBody),
    path: (name) => {
      const { name: profile, revision } = profileRef(name);
      return `/v1/profiles/${encodeURIComponent(profile)}/revisions/${encodeURIComponent(revision)}`;
    },
    problems: (name, body) => [
      ...(/^[^@]+@[^@]+$/.test(name)
        ? []
        : [{ pointer: '', detail: 'must be called by profile and revision, such as U1-OFF@B' }]),
      ...(body instanceof ProfileBody ? profileProblems(body) : []),
    ],
  },
  { ...plain('stations', 'station', StationBody), problems: none },
  { ...plain('operators', 'operator', OperatorBody), problems: none },
  {
    ...plain('limits', 'limit', LimitBody),
    problems: (_name, body) => (body instanceof LimitBody ? limitProblems(body) : []),
  },
  {
    ...plain('copperRates', 'copper rate', CopperRateBody),
    list: '/v1/copper-rates',
    path: (alloy) => `/v1/copper-rates/${encodeURIComponent(alloy)}`,
    problems: copperRateProblems,
  },
];
