/** The only source of "now" below the apps. */
export interface Clock {
  /** RFC 3339 UTC with milliseconds. */
  now(): string;
}
