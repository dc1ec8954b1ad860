import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { glyphCover } from './glyph-cover.js';
import { Face, FACES } from './page-style.js';

const { resolve } = createRequire(import.meta.url);

function fileOf(face: Face): string {
  return resolve(`dejavu-fonts-ttf/ttf/${FACES[face]}`);
}

const FILES: Readonly<Record<Face, string>> = {
  regular: fileOf('regular'),
  bold: fileOf('bold'),
  mono: fileOf('mono'),
};

/** Path of a typeface's file. pdfkit reads a typeface once if it is always named in the same way. */
export function typefaceFile(face: Face): string {
  return FILES[face];
}

let cover: ((codePoint: number) => boolean) | undefined;

/** Whether running text has a glyph for a code point. Read once: the font is the same for every document. */
export function hasGlyph(codePoint: number): boolean {
  cover ??= glyphCover(readFileSync(typefaceFile('regular')));
  return cover(codePoint);
}
