import { isIPv4, isIPv6 } from 'node:net';
import type { FastifyRequest } from 'fastify';

/** Whose address is none: a request over something that is no IP, or behind a proxy that hands on nonsense. */
const UNKNOWN = 'unknown';
/** Of eight groups, those that name a network: whoever has one address of IPv6 has all that begin so. */
const NETWORK_GROUPS = 4;

/**
 * Who is counted as one client: an IPv4 address, or a network of IPv6 (/64).
 * @param ip of the client as the proxies that are believed tell it
 */
export function clientOf({ ip }: Pick<FastifyRequest, 'ip'>): string {
  const mapped = /^::ffff:([\d.]+)$/i.exec(ip)?.[1] ?? ip;
  if (isIPv4(mapped)) return mapped;
  const [bare = ''] = ip.split('%', 1);
  return isIPv6(bare) ? `${groupsOf(bare).slice(0, NETWORK_GROUPS).join(':')}::/64` : UNKNOWN;
}

/** The eight groups of an address, without leading zeros; an IPv4 address at its end, which is beyond the network, counts as two. */
function groupsOf(ip: string): string[] {
  const [head = '', tail] = ip.toLowerCase().split('::');
  const parts = (text: string): string[] => (text === '' ? [] : text.split(':'));
  const [before, after] = [parts(head), parts(tail ?? '')];
  const width = (groups: readonly string[]): number =>
    groups.reduce((sum, group) => sum + (group.includes('.') ? 2 : 1), 0);
  const zeros = tail === undefined ? 0 : 8 - width(before) - width(after);
  return [...before, ...Array.from({ length: zeros }, () => '0'), ...after].map((group) =>
    group.replace(/^0+(?=[\da-f])/, ''),
  );
}
