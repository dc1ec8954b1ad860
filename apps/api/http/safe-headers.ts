/** Headers of every answer that keep browsers from misreading it, with the id under which the request is in the log. */
export function safeHeaders(requestId: string): Record<string, string> {
  return {
    'x-request-id': requestId,
    'x-content-type-options': 'nosniff',
    'x-frame-options': 'DENY',
    'referrer-policy': 'no-referrer',
    'content-security-policy': "default-src 'none'; frame-ancestors 'none'",
  };
}
