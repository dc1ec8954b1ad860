/** No archive can come of the request, however often it is tried. */
export class ArchiveImpossible extends Error {
  override readonly name = 'ArchiveImpossible';
}
