import { ThermocoupleSummary } from '../../domain/events/heat.js';
import { DevicePlaced, InspectionRecorded, SiteDressed, UnitReceived } from '../../domain/events/station-event.js';
import { figure, listed, shownTime } from './shown-values.js';
import { StationFact } from './story-entry.js';

/** A step in a few words, and what the station said of it, piece by piece. */
export interface StepWords {
  readonly what: string;
  readonly details: readonly string[];
}

/** Most items of a list within a step; the JSON has them all. */
const MOST = 12;

export function stepWords(fact: StationFact): StepWords {
  switch (fact.type) {
    case 'heatbook.unit.received.v1':
      return { what: 'Unit received', details: receivedWords(fact.data) };
    case 'heatbook.unit.baked.v1':
    case 'heatbook.device.baked.v1': {
      const { temperatureC, startedAt, endedAt, relativeHumidityPct, interruptedMinutes } = fact.data;
      const span = `${shownTime(startedAt)} to ${shownTime(endedAt)}`;
      return {
        what: `Baked at ${figure(temperatureC, '°C')}`,
        details: [span, ...given(relativeHumidityPct, '%RH'), ...given(interruptedMinutes, 'min interrupted')],
      };
    }
    case 'heatbook.unit.reflowed.v1':
      return {
        what: `Whole board reflowed${fact.data.side === undefined ? '' : `, ${fact.data.side} up`}`,
        details: [],
      };
    case 'heatbook.unit.shipped.v1':
      return { what: 'Unit shipped', details: [] };
    case 'heatbook.unit.scrapped.v1':
      return { what: 'Unit scrapped', details: [] };
    case 'heatbook.device.received.v1': {
      const { part, lot, dateCode, owner, priorExcursions, packSealedAt } = fact.data;
      const details = [named('lot', lot), named('date code', dateCode), named('owner', owner)].flat();
      const sealed = packSealedAt === undefined ? [] : [`pack sealed ${shownTime(packSealedAt)}`];
      return {
        what: `Device received, part ${part}`,
        details: [...details, ...given(priorExcursions, 'excursions before (declared)'), ...sealed],
      };
    }
    case 'heatbook.device.removed.v1': {
      const { refdes, device, fate } = fact.data;
      const what = `Device removed from ${refdes}, to ${fate === 'scrap' ? 'scrap' : 'be kept'}`;
      return { what, details: device === undefined ? [] : [`label read: ${device}`] };
    }
    case 'heatbook.device.deballed.v1': {
      const { method, solderAlloy, contactSeconds, solderC } = fact.data;
      const details = [
        ...named('solder', solderAlloy),
        ...given(contactSeconds, 's in contact'),
        ...given(solderC, '°C solder'),
      ];
      return { what: `Device deballed by ${method}`, details };
    }
    case 'heatbook.device.reballed.v1': {
      const { ballAlloy, ballDiameterMm } = fact.data;
      return { what: `Device reballed with ${ballAlloy}`, details: [figure(ballDiameterMm, 'mm balls', 3)] };
    }
    case 'heatbook.device.placed.v1':
      return { what: `Device ${fact.data.device} placed on ${fact.data.refdes}`, details: placedWords(fact.data) };
    case 'heatbook.device.scrapped.v1':
      return { what: 'Device scrapped', details: [] };
    case 'heatbook.exposure.started.v1':
    case 'heatbook.exposure.stopped.v1': {
      const { storage, ambientC, relativeHumidityPct } = fact.data;
      const what = fact.type === 'heatbook.exposure.started.v1' ? 'Out into the air' : 'Out of the air';
      return { what: `${what}: ${storage}`, details: [...given(ambientC, '°C'), ...given(relativeHumidityPct, '%RH')] };
    }
    case 'heatbook.site.dressed.v1':
      return { what: `${fact.data.refdes} dressed by ${fact.data.method}`, details: dressedWords(fact.data) };
    case 'heatbook.site.heated.v1':
      return { what: `${fact.data.refdes} heated: ${fact.data.purpose}`, details: [] };
    case 'heatbook.site.cleaned.v1':
      return { what: `${fact.data.refdes} cleaned`, details: [`agent ${fact.data.agent}`] };
    case 'heatbook.site.repaired.v1': {
      const { refdes, procedure, pads } = fact.data;
      return { what: `${refdes} repaired`, details: [procedure, `pads ${listed(pads, MOST)}`] };
    }
    case 'heatbook.inspection.recorded.v1':
      return { what: inspectionTitle(fact.data), details: defectWords(fact.data) };
    case 'heatbook.bath.analysed.v1': {
      const { solderAlloy, leadPct, copperPct, sampledAt } = fact.data;
      const details = [
        `sampled ${shownTime(sampledAt)}`,
        figure(leadPct, 'wt% lead', 3),
        figure(copperPct, 'wt% copper', 3),
      ];
      return { what: `Bath of ${solderAlloy} analysed`, details };
    }
  }
}

function inspectionTitle({ technique, result, target }: InspectionRecorded): string {
  return `Inspection of ${targetWords(target)} (${technique}): ${result}`;
}

export function targetWords({ kind, refdes, device }: InspectionRecorded['target']): string {
  if (kind === 'device') return `device ${device ?? 'of this ledger'}`;
  return kind === 'site' && refdes !== undefined ? `site ${refdes}` : 'the unit';
}

export function defectWords({ defects = [] }: InspectionRecorded): readonly string[] {
  return defects.map(({ code, pads = [] }) => (pads.length === 0 ? code : `${code} at ${listed(pads, MOST)}`));
}

/** What one thermocouple showed, as the station summed it up. */
export function readingWords(reading: ThermocoupleSummary, uncertaintyC: number): string {
  const { id, refdes, position, peakC, secondsAboveLiquidus, liquidusC, maxRiseCPerS, maxFallCPerS } = reading;
  const above = liquidusC === undefined ? 's above liquidus' : `s above ${figure(liquidusC, '°C')}`;
  return [
    `${id} (${position}${refdes === undefined ? '' : ` of ${refdes}`}) peak ${figure(peakC, '')} ± ${figure(uncertaintyC, '°C')}`,
    ...given(secondsAboveLiquidus, above),
    ...given(maxRiseCPerS, '°C/s steepest rise'),
    ...given(maxFallCPerS, '°C/s steepest fall'),
  ].join(', ');
}

function receivedWords({ workOrder, complaint, priorReflows, devices = [], sites = [] }: UnitReceived): string[] {
  const told = devices.map(({ refdes, device, priorExcursions }) => {
    const before = priorExcursions === undefined ? '' : ` with ${counting(priorExcursions, 'excursion')}`;
    return `${refdes}: ${device ?? 'device'}${before}`;
  });
  const reworked = sites.flatMap(({ refdes, priorReworks }) => {
    return priorReworks === undefined ? [] : [`${refdes} reworked ${counting(priorReworks, 'time')}`];
  });
  return [
    ...named('work order', workOrder),
    ...named('complaint', complaint),
    ...given(priorReflows, 'whole-board passes before (declared)'),
    ...(told.length === 0 ? [] : [`declared aboard: ${listed(told, MOST)}`]),
    ...(reworked.length === 0 ? [] : [`declared: ${listed(reworked, MOST)}`]),
  ];
}

function placedWords({ part, attach, pasteAlloy, pasteVolumeMm3 }: DevicePlaced): string[] {
  const paste = pasteAlloy === undefined ? attach : `${attach} ${pasteAlloy}`;
  return [...named('part', part), `with ${paste}`, ...given(pasteVolumeMm3, 'mm³ paste a joint')];
}

function dressedWords(data: SiteDressed): string[] {
  const { solderAlloy, passes, contactSeconds, solderC, flowing, flux, remnantHeightUm, nozzleSpeedMmPerS } = data;
  return [
    `solder ${solderAlloy}`,
    counting(passes, 'pass', 'passes'),
    figure(contactSeconds, 's in contact'),
    ...given(solderC, '°C solder'),
    ...(flowing === undefined ? [] : [flowing ? 'flowing' : 'still']),
    ...named('flux', flux),
    ...given(remnantHeightUm, 'µm left, measured'),
    ...given(nozzleSpeedMmPerS, 'mm/s nozzle'),
  ];
}

function counting(count: number, one: string, many = `${one}s`): string {
  return `${String(count)} ${count === 1 ? one : many}`;
}

function given(value: number | undefined, unit: string): string[] {
  return value === undefined ? [] : [figure(value, unit, 3)];
}

function named(name: string, value: string | undefined): string[] {
  return value === undefined ? [] : [`${name} ${value}`];
}
