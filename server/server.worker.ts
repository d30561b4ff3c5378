/** Entry of the browser extension's server, a web worker. */
import { BrowserMessageReader, BrowserMessageWriter, createConnection } from "vscode-languageserver/browser";
import { start } from "./start.ts";

const scope = globalThis as unknown as ConstructorParameters<typeof BrowserMessageReader>[0];
start(createConnection(new BrowserMessageReader(scope), new BrowserMessageWriter(scope)));
