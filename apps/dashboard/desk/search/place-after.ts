/**
 * Where a key leads in a list.
 * @param place where one is, from 0; -1: nowhere yet
 * @returns undefined where the key leads nowhere else
 */
export function placeAfter(key: string, place: number, length: number): number | undefined {
  if (length === 0) return undefined;
  switch (key) {
    case 'ArrowDown':
      return Math.min(place + 1, length - 1);
    case 'ArrowUp':
      return Math.max(place - 1, 0);
    case 'Home':
      return 0;
    case 'End':
      return length - 1;
    default:
      return undefined;
  }
}
