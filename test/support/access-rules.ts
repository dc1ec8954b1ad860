import { Role } from '../../libs/ledger/identity/principal.js';

/**
 * Who may use a route, as the matrix of access expects it: written by hand, not taken from the code. `about` says what its
 * address or query is about: of a unit or a hold, a customer is answered 404 unless it is theirs; of a station, or
 * what it says, a station is answered 403 unless that is itself. `absent`: the matrix asks for a record that is not there.
 */
export interface AccessRule {
  readonly who: readonly Role[] | 'everyone';
  readonly about?: 'unit' | 'hold' | 'station';
  readonly absent?: true;
}

const HOUSE: readonly Role[] = ['operator', 'quality', 'approver', 'auditor', 'admin'];
const PEOPLE: readonly Role[] = [...HOUSE, 'customer'];
const WITH_STATIONS: readonly Role[] = ['station', ...HOUSE];
const SETUP: readonly Role[] = ['quality', 'admin'];
const DESK: readonly Role[] = ['quality', 'approver', 'admin'];
const SIGNING: readonly Role[] = ['quality', 'approver'];
const OVERSIGHT: readonly Role[] = ['quality', 'approver', 'auditor', 'admin'];

/** By method and path, as the OpenAPI document names them. */
export const ACCESS_RULES: Readonly<Record<string, AccessRule>> = {
  ...setup('/v1/assemblies', '/v1/assemblies/{assembly}', HOUSE),
  ...setup('/v1/parts', '/v1/parts/{part}', WITH_STATIONS),
  'GET /v1/parts/{part}/classification': { who: WITH_STATIONS },
  ...setup('/v1/stations', '/v1/stations/{station}', HOUSE),
  'GET /v1/stations/{station}': { who: WITH_STATIONS, about: 'station' },
  ...setup('/v1/operators', '/v1/operators/{operator}', HOUSE),
  ...setup('/v1/limits', '/v1/limits/{limit}', HOUSE),
  'GET /v1/limits/{limit}/rechecks': { who: HOUSE },
  'POST /v1/limits/{limit}/what-if': { who: SETUP },
  ...setup('/v1/copper-rates', '/v1/copper-rates/{alloy}', HOUSE, true),
  'GET /v1/profiles': { who: WITH_STATIONS },
  'GET /v1/profiles/{profile}/revisions': { who: WITH_STATIONS },
  'PUT /v1/profiles/{profile}/revisions/{revision}': { who: SETUP },
  'GET /v1/profiles/{profile}/revisions/{revision}': { who: WITH_STATIONS },
  'GET /v1/profiles/{profile}/revisions/{revision}/history': { who: HOUSE },

  'POST /v1/stations/{station}/keys': { who: ['admin'] },
  'GET /v1/stations/{station}/keys': { who: ['auditor', 'admin'] },
  'DELETE /v1/stations/{station}/keys/{keyId}': { who: ['admin'], absent: true },
  'POST /v1/people': { who: ['admin'] },
  'GET /v1/people': { who: ['quality', 'auditor', 'admin'] },
  'GET /v1/people/{name}': { who: ['quality', 'auditor', 'admin'] },
  'PUT /v1/people/{name}': { who: ['admin'] },
  'GET /v1/people/{name}/changes': { who: ['quality', 'auditor', 'admin'] },
  'POST /v1/people/{name}/password': { who: PEOPLE },
  'POST /v1/people/{name}/erasure': { who: ['admin'] },
  'POST /v1/session': { who: 'everyone' },
  // A key is in no session.
  'GET /v1/session': { who: PEOPLE, absent: true },
  'DELETE /v1/session': { who: PEOPLE, absent: true },
  'GET /v1/access-records': { who: ['auditor', 'admin'] },

  'POST /v1/events': { who: ['station', 'admin'], about: 'station' },
  'GET /v1/events': { who: WITH_STATIONS, about: 'station' },
  'GET /v1/stream': { who: PEOPLE },
  'GET /v1/events/parked': { who: HOUSE },
  'POST /v1/events/retries': { who: SETUP },
  'PUT /v1/traces/{trace}': { who: ['station', 'admin'] },
  'GET /v1/traces/{trace}': { who: WITH_STATIONS, absent: true },
  'GET /v1/traces/{trace}/analysis': { who: WITH_STATIONS, absent: true },
  'GET /v1/traces/{trace}/curve': { who: WITH_STATIONS, absent: true },

  'POST /v1/clearances': { who: ['station', 'operator', ...SETUP] },
  'GET /v1/clearances': { who: WITH_STATIONS },
  'GET /v1/clearances/{id}': { who: WITH_STATIONS, absent: true },
  'DELETE /v1/clearances/{id}': { who: ['station', 'operator', ...SETUP], absent: true },

  'GET /v1/units': { who: PEOPLE },
  'GET /v1/units/{assembly}/{serial}': { who: PEOPLE, about: 'unit' },
  'GET /v1/units/{assembly}/{serial}/ledger': { who: PEOPLE, about: 'unit' },
  'GET /v1/units/{assembly}/{serial}/audit': { who: PEOPLE, about: 'unit' },
  'POST /v1/audits': { who: PEOPLE },
  'GET /v1/audits': { who: PEOPLE },
  'GET /v1/audits/{id}': { who: PEOPLE, absent: true },
  'DELETE /v1/audits/{id}': { who: PEOPLE, absent: true },
  'GET /v1/audits/{id}/archive': { who: PEOPLE, absent: true },
  'GET /v1/devices/{device}': { who: HOUSE },
  'GET /v1/devices/{device}/ledger': { who: HOUSE },
  'GET /v1/search': { who: PEOPLE },
  'GET /v1/station-reports': { who: HOUSE },
  'GET /v1/station-reports/{station}': { who: HOUSE },
  'GET /v1/stations/{station}/units': { who: HOUSE },
  'GET /v1/queue': { who: HOUSE },
  'POST /v1/method-plans': { who: HOUSE },
  'GET /v1/damage-rates': { who: HOUSE },

  'GET /v1/holds': { who: PEOPLE },
  'GET /v1/holds/summary': { who: PEOPLE },
  'GET /v1/holds/{id}': { who: PEOPLE, about: 'hold' },
  'POST /v1/holds': { who: DESK },
  'POST /v1/holds/{id}/dispositions': { who: SIGNING },
  'POST /v1/holds/{id}/release': { who: SIGNING },
  'POST /v1/holds/{id}/comments': { who: ['operator', ...DESK] },
  'PUT /v1/holds/{id}/assignment': { who: DESK },
  'POST /v1/hold-assignments': { who: DESK },
  'GET /v1/notices': { who: HOUSE },
  'POST /v1/notices/{id}/acknowledgement': { who: SETUP, absent: true },
  'GET /v1/concessions': { who: HOUSE },
  'POST /v1/concessions': { who: ['approver'] },
  'GET /v1/concessions/{id}': { who: HOUSE, absent: true },
  'POST /v1/concessions/{id}/withdrawal': { who: ['approver'], absent: true },
  'POST /v1/annulments': { who: SIGNING },
  'POST /v1/containments': { who: ['quality'] },
  'GET /v1/containments': { who: OVERSIGHT },
  'GET /v1/containments/{id}': { who: OVERSIGHT, absent: true },
  'GET /v1/containments/{id}/units': { who: OVERSIGHT, absent: true },
  'POST /v1/containments/{id}/repeat': { who: ['quality'], absent: true },

  'PUT /v1/retentions/{customer}': { who: SETUP },
  'GET /v1/retentions/{customer}': { who: OVERSIGHT, absent: true },
  'GET /v1/retentions/{customer}/revisions': { who: OVERSIGHT, absent: true },
  'GET /v1/retentions': { who: OVERSIGHT },
  'GET /v1/retentions/due': { who: OVERSIGHT },
  'POST /v1/legal-holds': { who: ['approver'] },
  'GET /v1/legal-holds': { who: OVERSIGHT },
  'GET /v1/legal-holds/{id}': { who: OVERSIGHT, absent: true },
  'POST /v1/legal-holds/{id}/lift': { who: ['approver'], absent: true },

  // Sizes and roots, no names.
  'GET /v1/log/checkpoint': { who: 'everyone' },
  'GET /v1/log/keys': { who: 'everyone' },
  'GET /v1/log/proofs/consistency': { who: 'everyone' },
  'GET /v1/log/proofs/inclusion': { who: PEOPLE, about: 'unit' },
  'GET /v1/log/leaves': { who: ['quality', 'auditor', 'admin'] },
  'GET /v1/log/censuses': { who: HOUSE },
  'GET /v1/log/censuses/{day}': { who: HOUSE, absent: true },

  // Of the build, which tests do without.
  'GET /verify': { who: 'everyone', absent: true },
  'GET /': { who: 'everyone', absent: true },
  'GET /desk': { who: 'everyone', absent: true },
  'GET /desk/{path}': { who: 'everyone', absent: true },
  'GET /health/live': { who: 'everyone' },
  'GET /health/ready': { who: 'everyone' },
  'GET /metrics': { who: 'everyone' },
  'GET /openapi.json': { who: 'everyone' },
  'GET /asyncapi.json': { who: 'everyone' },
};

/** What the routes of every kind of setup record have in common. */
function setup(list: string, one: string, readers: readonly Role[], absent?: true): Record<string, AccessRule> {
  const missing = absent === undefined ? {} : { absent };
  return {
    [`PUT ${one}`]: { who: SETUP },
    [`GET ${one}`]: { who: readers, ...missing },
    [`GET ${list}`]: { who: readers },
    [`GET ${one}/revisions`]: { who: HOUSE, ...missing },
  };
}
