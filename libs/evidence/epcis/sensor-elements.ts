import { orderTime } from '../../domain/events/event-order.js';
import { Heat, ThermocoupleSummary } from '../../domain/events/heat.js';
import { Baked, ExposureChanged } from '../../domain/events/station-event.js';
import { SensorElement, SensorReport } from './epcis-event.js';
import { capitalTime } from './epcis-time.js';
import { HouseUris } from './house-uris.js';

/** A heat: its window, and the highest temperature and the time above liquidus of each thermocouple. */
export function heatSensors(heat: Heat | undefined, station: string, uris: HouseUris): readonly SensorElement[] {
  if (heat === undefined) return [];
  const { startedAt, endedAt, thermocouples, trace } = heat;
  return [
    {
      sensorMetadata: { ...span(startedAt, endedAt), ...(trace !== undefined && { rawData: uris.trace(trace) }) },
      sensorReport: [
        lasted(startedAt, endedAt),
        ...thermocouples.flatMap((thermocouple) => thermocoupleReports(thermocouple, station, uris)),
      ],
    },
  ];
}

function thermocoupleReports(seen: ThermocoupleSummary, station: string, uris: HouseUris): readonly SensorReport[] {
  const where = {
    deviceID: uris.thermocouple(station, seen.id),
    'heatbook:position': seen.position,
    ...(seen.refdes !== undefined && { 'heatbook:refdes': seen.refdes }),
  } as const;
  const peak: SensorReport = {
    type: 'Temperature',
    ...where,
    maxValue: seen.peakC,
    uom: 'CEL',
    'heatbook:measure': 'peak',
    ...(seen.uncertaintyC !== undefined && { 'heatbook:uncertaintyC': seen.uncertaintyC }),
  };
  if (seen.secondsAboveLiquidus === undefined) return [peak];
  const above: SensorReport = {
    type: 'Time',
    ...where,
    value: seen.secondsAboveLiquidus,
    uom: 'SEC',
    'heatbook:measure': 'above-liquidus',
    ...(seen.liquidusC !== undefined && { 'heatbook:liquidusC': seen.liquidusC }),
  };
  return [peak, above];
}

/** A bake: its window, the temperature of the oven, how long it lasted and how long it was interrupted. */
export function bakeSensors(bake: Baked): readonly SensorElement[] {
  const { startedAt, endedAt, temperatureC, relativeHumidityPct, interruptedMinutes } = bake;
  const interrupted: readonly SensorReport[] =
    interruptedMinutes === undefined
      ? []
      : [{ type: 'Time', value: interruptedMinutes, uom: 'MIN', 'heatbook:measure': 'interrupted' }];
  return [
    {
      sensorMetadata: span(startedAt, endedAt),
      sensorReport: [
        { type: 'Temperature', value: temperatureC, uom: 'CEL', 'heatbook:measure': 'oven' },
        lasted(startedAt, endedAt),
        ...humidity(relativeHumidityPct),
        ...interrupted,
      ],
    },
  ];
}

/** The air where something lies from now on, as far as it was told. */
export function airSensors({ ambientC, relativeHumidityPct }: ExposureChanged, time: string): readonly SensorElement[] {
  const temperature: readonly SensorReport[] =
    ambientC === undefined ? [] : [{ type: 'Temperature', value: ambientC, uom: 'CEL', 'heatbook:measure': 'air' }];
  const sensorReport = [...temperature, ...humidity(relativeHumidityPct)];
  return sensorReport.length === 0 ? [] : [{ sensorMetadata: { time: capitalTime(time) }, sensorReport }];
}

function humidity(relativeHumidityPct: number | undefined): readonly SensorReport[] {
  if (relativeHumidityPct === undefined) return [];
  return [{ type: 'RelativeHumidity', value: relativeHumidityPct, uom: 'P1', 'heatbook:measure': 'air' }];
}

function span(startedAt: string, endedAt: string): { readonly startTime: string; readonly endTime: string } {
  return { startTime: capitalTime(startedAt), endTime: capitalTime(endedAt) };
}

function lasted(startedAt: string, endedAt: string): SensorReport {
  const value = (Date.parse(orderTime(endedAt)) - Date.parse(orderTime(startedAt))) / 1000;
  return { type: 'Time', value, uom: 'SEC', 'heatbook:measure': 'lasted' };
}
