import fc from 'fast-check';
import { foldedPath, safeName, unitPaths } from './archive-paths.js';

/** Names of the book, with many that some file system takes in its own way. */
const names = fc.oneof(
  fc.stringMatching(/^[A-Za-z0-9._:-]{1,8}$/),
  fc.constantFrom('CON', 'con', 'nul', 'NUL.1', 'com1', 'a', 'A', 'a.', '.a', 'a:', ':', '...', 'aux-1'),
);

describe('paths of units', () => {
  it('leave an ordinary name as it is', () => {
    expect(unitPaths([{ assembly: 'ZIB-PANEL-1', serial: '0101' }])).toEqual(['units/ZIB-PANEL-1/0101']);
  });

  it('are never the same, nor such that a file system would refuse or confuse them', () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.record({ assembly: names, serial: names }), {
          selector: ({ assembly, serial }) => `${assembly}/${serial}`,
        }),
        (units) => {
          const paths = unitPaths(units);
          expect(new Set(paths.map(foldedPath)).size).toBe(units.length);
          for (const part of paths.flatMap((path) => path.split('/'))) {
            expect(part).toMatch(/^[A-Za-z0-9_%~-][A-Za-z0-9._%~-]*$/);
            expect(part).not.toMatch(/\.$|^(con|prn|aux|nul|com\d|lpt\d)(\.|$)/i);
          }
        },
      ),
    );
  });

  it('never make one name of two', () => {
    fc.assert(fc.property(names, names, (one, other) => (safeName(one) === safeName(other)) === (one === other)));
  });
});
