/** Entry of the browser extension's server, a web worker. */
import { BrowserMessageReader, BrowserMessageWriter, createConnection } from "vscode-languageserver/browser";
import { start } from "./start.ts";

/** What this script runs in. */
declare const self: DedicatedWorkerGlobalScope;

start(createConnection(new BrowserMessageReader(self), new BrowserMessageWriter(self)));
