import { useInfiniteQuery, useQueries, useQuery } from '@tanstack/react-query';
import { api, dataOf, type Schemas } from '../api/client.js';
import { keys } from '../api/keys.js';
import type { Role } from '../session/session-gate.js';

/** Who sees the setup of boards, clearances, and devices by themselves: everyone but customers. */
export const HOUSE: readonly Role[] = ['operator', 'quality', 'approver', 'auditor', 'admin'];
/** Who may raise a hold by hand. */
export const DESK: readonly Role[] = ['quality', 'approver', 'admin'];

export type AssemblyDesign = Schemas['SetupRevision'] & Schemas['AssemblyBody'];
export type PartDesign = Schemas['SetupRevision'] & Schemas['PartBody'];

/** A unit as the book has it now. */
export function useUnit(assembly: string, serial: string) {
  return useQuery({
    queryKey: keys.unit(assembly, serial),
    queryFn: () => dataOf(api.GET('/v1/units/{assembly}/{serial}', { params: { path: { assembly, serial } } })),
  });
}

/** A device as the book has it now. Not for customers. */
export function useDevice(device: string) {
  return useQuery(deviceQuery(device));
}

/** Several devices, in the order of their names. */
export function useDevices(devices: readonly string[]) {
  return useQueries({ queries: devices.map(deviceQuery) });
}

function deviceQuery(device: string) {
  return {
    queryKey: keys.device(device),
    queryFn: () => dataOf(api.GET('/v1/devices/{device}', { params: { path: { device } } })),
  };
}

/** Setup changes seldom, and its revisions are not told live. */
const SETUP_FRESH_MS = 10 * 60_000;

/** How a board is laid out. Not for customers. */
export function useAssembly(assembly: string) {
  return useQuery({
    queryKey: keys.assembly(assembly),
    queryFn: () => dataOf(api.GET('/v1/assemblies/{assembly}', { params: { path: { assembly } } })),
    staleTime: SETUP_FRESH_MS,
  });
}

/** Parts by name; one that the setup lacks is left out. */
export function useParts(parts: readonly string[]): ReadonlyMap<string, PartDesign> {
  return useQueries({
    queries: parts.map((part) => ({
      queryKey: keys.part(part),
      queryFn: () => dataOf(api.GET('/v1/parts/{part}', { params: { path: { part } } })),
      staleTime: SETUP_FRESH_MS,
    })),
    combine: (found) => new Map(found.flatMap(({ data }) => (data === undefined ? [] : [[data.name, data] as const]))),
  });
}

/** What is cleared on a unit at this moment: planned steps, and until when. Not for customers. */
export function useGranted(assembly: string, serial: string) {
  const query = { assembly, serial, state: 'granted' } as const;
  return useQuery({
    queryKey: keys.clearances(query),
    queryFn: () => dataOf(api.GET('/v1/clearances', { params: { query } })),
  });
}

/** Units on a page of the list. */
const UNIT_ROWS = 100;
/** Beyond these pages the list is no longer renewed by itself: each would be asked for again whenever a unit changes. */
export const LIVE_PAGES = 3;

export interface UnitFilter {
  readonly customer?: string;
  readonly assembly?: string;
  readonly serial?: string;
  readonly state?: Schemas['Unit']['state'];
}

/** Units by assembly and serial, page after page. @param live whether changes are followed */
export function useUnits(filter: UnitFilter, live: boolean) {
  return useInfiniteQuery({
    queryKey: keys.units(filter),
    queryFn: ({ pageParam }) => {
      const query = { ...filter, limit: UNIT_ROWS, ...(pageParam !== null && { cursor: pageParam }) };
      return dataOf(api.GET('/v1/units', { params: { query } }));
    },
    initialPageParam: null as string | null,
    getNextPageParam: ({ nextCursor }) => nextCursor,
    enabled: live,
  });
}
