/** A year, which is the least that browsers' own lists take. */
const HTTPS_ONLY = 'max-age=31536000; includeSubDomains';

/**
 * Headers of every answer that keep browsers from misreading it, with the id under which the request is in the log.
 * @param isHttpsOnly whether browsers are to come by HTTPS alone from now on
 */
export function safeHeaders(requestId: string, isHttpsOnly = false): Record<string, string> {
  return {
    'x-request-id': requestId,
    'x-content-type-options': 'nosniff',
    'x-frame-options': 'DENY',
    'referrer-policy': 'no-referrer',
    'content-security-policy': "default-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
    // Other sites' pages cannot take an answer in as a picture or a script, not even to guess at it.
    'cross-origin-resource-policy': 'same-origin',
    ...(isHttpsOnly && { 'strict-transport-security': HTTPS_ONLY }),
  };
}
