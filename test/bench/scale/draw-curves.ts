import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { benchPictures } from './bench-curves.js';
import { readFigures } from './bench-figures.js';
import { curvePicture } from './curve-picture.js';
import { measuredCosts } from './measured-costs.js';

const [folder, ...files] = process.argv.slice(2);

/** Writes pictures of what the bench has found (`--json`; cost, growth and reads, in one file or several) into a folder. */
if (folder === undefined || files.length === 0) {
  process.stderr.write('draw-curves FOLDER FILE... : each file as npm run --silent bench -- --json writes it\n');
  process.exitCode = 2;
} else {
  const figures = await readFigures(files);
  const hasCosts = [...figures.keys()].some((name) => name.startsWith('batch-cpu-'));
  const pictures = benchPictures(figures, hasCosts ? measuredCosts(figures) : undefined);
  await mkdir(folder, { recursive: true });
  for (const [name, picture] of pictures) {
    const file = join(folder, `${name}.svg`);
    await writeFile(file, curvePicture(picture));
    process.stdout.write(`${file}\n`);
  }
}
