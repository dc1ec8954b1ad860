import { until } from '../../libs/postgres/embedded/processes.js';

const PATIENCE_MS = 60_000;

/** Waits until an api takes events from its broker: what is published before its first time there waits for nobody. */
export async function brokerConnected(url: string): Promise<void> {
  const isConnected = async (): Promise<boolean> => {
    return /^heatbook_mqtt_connected 1$/m.test(await (await fetch(`${url}/metrics`)).text());
  };
  if (!(await until(isConnected, PATIENCE_MS))) throw new Error(`no broker after ${PATIENCE_MS} ms`);
}
