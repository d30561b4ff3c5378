/** Entry of the browser extension's server, a web worker. */
import { BrowserMessageReader, BrowserMessageWriter, createConnection } from "vscode-languageserver/browser";
import { Parts, shareParts } from "./parts.ts";
import { secondPartUrl } from "./second-part.ts";
import { start } from "./start.ts";

/** What this script runs in. */
declare const self: DedicatedWorkerGlobalScope;

/** As the client tells it: an editor may run this script from a blob, which lies nowhere. */
let secondPart: unknown;

shareParts(
	new Parts(() => {
		// The one script that is loaded, from beside this one: tests/shipped.test.ts knows this call.
		self.importScripts(secondPartUrl(secondPart));
	}),
);
start(createConnection(new BrowserMessageReader(self), new BrowserMessageWriter(self)), {
	hear: (options) => {
		secondPart = options.secondPart;
	},
});
