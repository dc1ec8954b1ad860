import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { extname } from 'node:path';
import { gzipSync } from 'node:zlib';

/** Media types of what a build of pages holds, by the end of the name, with whether it gets smaller when compressed. */
const MEDIA_TYPES: Readonly<Record<string, readonly [string, boolean]>> = {
  '.html': ['text/html; charset=utf-8', true],
  '.js': ['text/javascript; charset=utf-8', true],
  '.css': ['text/css; charset=utf-8', true],
  '.svg': ['image/svg+xml', true],
  '.json': ['application/json', true],
  '.webmanifest': ['application/manifest+json', true],
  '.txt': ['text/plain; charset=utf-8', true],
  '.png': ['image/png', false],
  '.ico': ['image/x-icon', false],
  '.woff2': ['font/woff2', false],
};

/** A file in one encoding. */
export interface EncodedFile {
  readonly bytes: Buffer;
  /** Strong entity tag: of exactly these bytes. */
  readonly etag: string;
}

/** A file of a page, as it was when it was read. */
export interface DeskFile {
  readonly mediaType: string;
  readonly plain: EncodedFile;
  /** Undefined where it would save nothing. */
  readonly gzip: EncodedFile | undefined;
}

/**
 * Reads a file of the build and compresses it once, so that no request waits for that.
 * @throws Error for a kind of file that has no media type here: browsers would be told not to use it
 */
export function readDeskFile(path: string): DeskFile {
  const known = MEDIA_TYPES[extname(path)];
  if (known === undefined) {
    throw new Error(`${path} is of a kind that the desk is not known to need: add its media type to desk-file.ts.`);
  }
  const [mediaType, isCompressible] = known;
  const bytes = readFileSync(path);
  const packed = isCompressible ? gzipSync(bytes, { level: 9 }) : bytes;
  return { mediaType, plain: encoded(bytes), gzip: packed.length < bytes.length ? encoded(packed) : undefined };
}

function encoded(bytes: Buffer): EncodedFile {
  return { bytes, etag: `"${createHash('sha256').update(bytes).digest('hex')}"` };
}

/**
 * Whether a caller who sends this Accept-Encoding takes gzip (RFC 9110, section 12.5.3). Without the header the plain bytes
 * are sent.
 */
export function takesGzip(header: string | undefined): boolean {
  const weights = new Map(
    (header ?? '').split(',').map((one): [string, number] => {
      const [coding = '', ...parameters] = one.split(';').map((part) => part.trim().toLowerCase());
      const weight = parameters.find((parameter) => parameter.startsWith('q='));
      return [coding, weight === undefined ? 1 : Number(weight.slice(2))];
    }),
  );
  return (weights.get('gzip') ?? weights.get('*') ?? 0) > 0;
}
