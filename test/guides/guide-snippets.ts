import { readFile } from 'node:fs/promises';

/** A piece of code that a guide shows under the name of a file: a fence such as ` ```bash first-event.sh `. */
export interface GuideSnippet {
  readonly language: string;
  readonly file: string;
  readonly code: string;
}

const FENCE = /^```(\w+) (\S+)\n(.*?)^```$/gms;

/** @param path of the guide, from the root of the repository */
export async function guideSnippets(path: string): Promise<readonly GuideSnippet[]> {
  const text = await readFile(path, 'utf8');
  return [...text.matchAll(FENCE)].map(([, language = '', file = '', code = '']) => ({ language, file, code }));
}
