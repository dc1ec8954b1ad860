import { CommonData } from '../../domain/events/station-event.js';
import { SealedEntry } from '../../ledger/ports/seal.js';
import { associationsOf } from './associations.js';
import { EpcisStatement } from './epcis-event.js';
import { holdStatements } from './hold-statements.js';
import { HouseUris } from './house-uris.js';
import { inOwnTerms } from './own-terms.js';
import { lotsOf, stepOf } from './step-facts.js';
import { stationOf, ToldEvent, toldEvent } from './told-event.js';

/**
 * What an entry says in EPCIS: what was done, which devices came and went with it, and what became of holds. Empty where
 * it says nothing that EPCIS speaks of.
 */
export function statementsOf(entry: SealedEntry, uris: HouseUris): readonly EpcisStatement[] {
  const told = toldEvent(entry);
  const holds = holdStatements(entry, uris);
  return told === undefined ? holds : [...stepStatements(entry, told, uris), ...holds];
}

function stepStatements(entry: SealedEntry, told: ToldEvent, uris: HouseUris): readonly EpcisStatement[] {
  const step = stepOf(told, entry, stationOf(entry) ?? '', uris);
  const devices = associationsOf(entry, step.bizStep, uris);
  const own = { ...siteOf(told), ...saidOf(told.data, uris) };
  const main = devices.find(
    ({ facts }) => isMove(told) && facts.bizStep === step.bizStep && facts.action !== 'OBSERVE',
  );
  if (main !== undefined) {
    const { sensorElementList } = step;
    const facts = { ...main.facts, ...(sensorElementList !== undefined && { sensorElementList }) };
    return [{ ...main, facts, own: { ...main.own, ...own } }, ...devices.filter((other) => other !== main)];
  }
  const epcList = thingsOf(entry, told, uris);
  const stays = step.bizStep !== 'shipping' && step.action !== 'DELETE';
  return [{ facts: { type: 'ObjectEvent', ...step, epcList }, stays, own }, ...devices];
}

function isMove({ type }: ToldEvent): boolean {
  return type === 'heatbook.device.removed.v1' || type === 'heatbook.device.placed.v1';
}

/** The ledger's own unit or device, or the device of an inspection that names one. */
function thingsOf({ subject }: SealedEntry, told: ToldEvent, uris: HouseUris): readonly string[] {
  if (told.type === 'heatbook.inspection.recorded.v1' && told.data.target.device !== undefined) {
    return [uris.device(told.data.target.device)];
  }
  return [uris.thingOf(subject) ?? []].flat();
}

function siteOf({ data }: ToldEvent): Readonly<Record<`heatbook:${string}`, unknown>> {
  const refdes = 'target' in data ? data.target.refdes : 'refdes' in data ? data.refdes : undefined;
  return refdes === undefined ? {} : { 'heatbook:site': refdes };
}

function saidOf(data: CommonData, uris: HouseUris): Readonly<Record<`heatbook:${string}`, unknown>> {
  const lots = lotsOf(data, uris);
  return { ...(lots.length > 0 && { 'heatbook:lots': lots }), 'heatbook:data': inOwnTerms(data) };
}
