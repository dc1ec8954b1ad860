import { CommonData, InspectionRecorded } from '../../domain/events/station-event.js';
import { SealedEntry } from '../../ledger/ports/seal.js';
import { EpcisFacts, SensorElement } from './epcis-event.js';
import { HouseUris } from './house-uris.js';
import { airSensors, bakeSensors, heatSensors } from './sensor-elements.js';
import { ToldEvent } from './told-event.js';

type Step = Omit<EpcisFacts, 'type' | 'epcList' | 'parentID' | 'childEPCs'>;

/** What a station's fact is by CBV 2.0, whatever it was done to. docs/guide/epcis.md gives the reasons. */
export function stepOf(told: ToldEvent, { time }: SealedEntry, station: string, uris: HouseUris): Step {
  const heated = (heat: Parameters<typeof heatSensors>[0]): Pick<Step, 'sensorElementList'> =>
    sensed(heatSensors(heat, station, uris));
  switch (told.type) {
    case 'heatbook.unit.received.v1':
      return { action: 'OBSERVE', bizStep: 'receiving', ...ordered(told.data.workOrder, uris) };
    case 'heatbook.device.received.v1':
      return { action: 'OBSERVE', bizStep: 'receiving' };
    case 'heatbook.unit.baked.v1':
    case 'heatbook.device.baked.v1':
      return { action: 'OBSERVE', bizStep: 'other', ...sensed(bakeSensors(told.data)) };
    case 'heatbook.exposure.started.v1':
    case 'heatbook.exposure.stopped.v1':
      return { action: 'OBSERVE', bizStep: 'storing', ...sensed(airSensors(told.data, time)) };
    case 'heatbook.device.removed.v1':
      return { action: 'OBSERVE', bizStep: 'removing', ...heated(told.data.heat) };
    case 'heatbook.device.placed.v1':
      return { action: 'OBSERVE', bizStep: 'installing', ...heated(told.data.heat) };
    case 'heatbook.unit.reflowed.v1':
    case 'heatbook.site.dressed.v1':
    case 'heatbook.site.heated.v1':
    case 'heatbook.device.deballed.v1':
    case 'heatbook.device.reballed.v1':
      return { action: 'OBSERVE', bizStep: 'repairing', ...heated(told.data.heat) };
    case 'heatbook.site.cleaned.v1':
    case 'heatbook.site.repaired.v1':
      return { action: 'OBSERVE', bizStep: 'repairing' };
    case 'heatbook.inspection.recorded.v1':
      return inspected(told.data);
    case 'heatbook.unit.shipped.v1':
      return { action: 'OBSERVE', bizStep: 'shipping', disposition: 'in_transit' };
    case 'heatbook.unit.scrapped.v1':
    case 'heatbook.device.scrapped.v1':
      return { action: 'DELETE', bizStep: 'destroying', disposition: 'disposed' };
    case 'heatbook.bath.analysed.v1':
      return { action: 'OBSERVE', bizStep: 'inspecting' };
  }
}

function inspected({ result }: InspectionRecorded): Step {
  const disposition = result === 'pass' ? 'conformant' : 'non_conformant';
  return { action: 'OBSERVE', bizStep: 'inspecting', disposition };
}

function sensed(sensorElementList: readonly SensorElement[]): Pick<Step, 'sensorElementList'> {
  return sensorElementList.length === 0 ? {} : { sensorElementList };
}

function ordered(workOrder: string | undefined, uris: HouseUris): Pick<Step, 'bizTransactionList'> {
  if (workOrder === undefined) return {};
  return { bizTransactionList: [{ type: 'prodorder', bizTransaction: uris.workOrder(workOrder) }] };
}

/** Lots of what was used up, as URIs. */
export function lotsOf({ lots = {} }: CommonData, uris: HouseUris): readonly { readonly id: string }[] {
  return Object.entries(lots).map(([material, lot]) => ({ id: uris.lot(material, lot) }));
}
