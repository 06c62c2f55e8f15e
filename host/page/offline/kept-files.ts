/** Whether this browser keeps the page's files. */

/** False where browsers allow no worker: neither https nor the server's own machine. */
export const canKeepFiles = (): boolean => "serviceWorker" in navigator;

/** Asks the browser to keep the files; it refuses quietly where it does not like to. */
export async function keepFiles(): Promise<void> {
  if (!canKeepFiles()) return;
  await navigator.serviceWorker.register("./worker.js", { scope: "./" }).catch(() => undefined);
}

/** Gives the kept files up. */
export async function forgetFiles(): Promise<void> {
  if (!canKeepFiles()) return;
  const registrations = await navigator.serviceWorker.getRegistrations();
  await Promise.all(registrations.map((registration) => registration.unregister()));
  for (const name of await caches.keys()) await caches.delete(name);
}
