/** Id of the link of a row, by which the keyboard comes to it. */
export function rowLinkId(index: number): string {
  return `hold-row-${index}`;
}
