/**
 * Keys of cached answers. The first member names the kind, so that live messages can say which of them are out of date;
 * narrower ones follow.
 */
export const keys = {
  session: ['session'] as const,
  holds: (filter: object) => ['holds', filter] as const,
  holdSummary: (filter: object) => ['hold-summary', filter] as const,
  hold: (id: string) => ['hold', id] as const,
  units: (filter: object) => ['units', filter] as const,
  unit: (assembly: string, serial: string) => ['unit', `${assembly}/${serial}`] as const,
  /** @param stream as entries name it: `{assembly}/{serial}` or a device's */
  ledger: (stream: string, filter: object) => ['ledger', stream, filter] as const,
  device: (device: string) => ['device', device] as const,
  eventStatus: (source: string, id: string) => ['event-status', source, id] as const,
  clearances: (filter: object) => ['clearances', filter] as const,
  curve: (trace: string, options: object) => ['curve', trace, options] as const,
  assembly: (assembly: string) => ['assembly', assembly] as const,
  part: (part: string) => ['part', part] as const,
  containments: ['containments'] as const,
  containment: (id: string) => ['containment', id] as const,
  stations: ['stations'] as const,
  station: (station: string) => ['stations', station] as const,
  queue: ['queue'] as const,
  /** Not among what messages make out of date: it is searched for, and every entry would ask for it again. */
  stationUnits: (station: string, period: object) => ['station-units', station, period] as const,
  stationSetup: (station: string) => ['station-setup', station] as const,
  stationKeys: (station: string) => ['station-keys', station] as const,
  parked: ['parked'] as const,
  notices: (filter: object) => ['notices', filter] as const,
  damage: (filter: object) => ['damage', filter] as const,
  operators: ['operators'] as const,
  people: ['people'] as const,
  limits: ['limits'] as const,
  limit: (limit: string) => ['limits', limit] as const,
  search: (text: string) => ['search', text] as const,
};
