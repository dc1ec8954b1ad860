/** Runs once after all suites: stops the shared servers and removes what global-setup made. */
export default async function globalTeardown(): Promise<void> {
  await globalThis.testWorld?.stopServers();
}
