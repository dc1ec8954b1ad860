import { useInfiniteQuery, useQuery } from '@tanstack/react-query';
import { api, dataOf, type Schemas } from '../api/client.js';
import { keys } from '../api/keys.js';
import { instantsOf, type Period } from './period.js';

export type StationReport = Schemas['StationReport'];
export type TouchedUnit = Schemas['StationUnit'];

/** Queue and silence grow without a message of the stream, so they are asked for now and then. */
const RENEW_MS = 15_000;
const STATION_ROWS = 200;
const TOUCHED_ROWS = 100;

/** Every station by name, page after page. */
export function useStationReports() {
  return useInfiniteQuery({
    queryKey: keys.stations,
    queryFn: ({ pageParam }) => {
      const query = { limit: STATION_ROWS, ...(pageParam !== null && { cursor: pageParam }) };
      return dataOf(api.GET('/v1/station-reports', { params: { query } }));
    },
    initialPageParam: null as string | null,
    getNextPageParam: ({ nextCursor }) => nextCursor,
    refetchInterval: RENEW_MS,
  });
}

export function useStationReport(station: string) {
  return useQuery({
    queryKey: keys.station(station),
    queryFn: () => dataOf(api.GET('/v1/station-reports/{station}', { params: { path: { station } } })),
    refetchInterval: RENEW_MS,
  });
}

/** What waits to be folded, of all stations. */
export function useQueueNow() {
  return useQuery({
    queryKey: keys.queue,
    queryFn: () => dataOf(api.GET('/v1/queue')),
    refetchInterval: RENEW_MS,
  });
}

/** Units that a station touched on some days, the last one first, page after page. */
export function useTouchedUnits(station: string, days: Required<Period>) {
  return useInfiniteQuery({
    queryKey: keys.stationUnits(station, days),
    queryFn: ({ pageParam }) => {
      const query = { ...instantsOf(days), limit: TOUCHED_ROWS, ...(pageParam !== null && { cursor: pageParam }) };
      return dataOf(api.GET('/v1/stations/{station}/units', { params: { path: { station }, query } }));
    },
    initialPageParam: null as string | null,
    getNextPageParam: ({ nextCursor }) => nextCursor,
  });
}

/** What was entered of a station, newest revision first. */
export function useStationSetup(station: string) {
  return useQuery({
    queryKey: keys.stationSetup(station),
    queryFn: () =>
      dataOf(api.GET('/v1/stations/{station}/revisions', { params: { path: { station }, query: { limit: 50 } } })),
  });
}

/** Its live keys, without their text. For admin and auditor. */
export function useStationKeys(station: string) {
  return useQuery({
    queryKey: keys.stationKeys(station),
    queryFn: () => dataOf(api.GET('/v1/stations/{station}/keys', { params: { path: { station } } })),
  });
}
