// What the worker stands on, for the type check alone; nobody fetches this file.

/** Written above the worker by `webapp/app_files/shell.py`: addresses, and SHA-256 of what comes after a start. */
interface Shell {
  version: string;
  files: string[];
  proof: string;
  rest: Record<string, string>;
  together: { address: string; hash: string; files: string[] };
  asked: Record<string, string>;
}
interface ServiceWorkerGlobalScope {
  SHELL: Shell;
}
