/** Entry of a helper's thread: it takes plans of the list as long as there are any (`many.node.ts`). */
import { parentPort, workerData } from "node:worker_threads";
import { type HelperData, type HelperMessage, mayBegin, takeTurns } from "./many.node.ts";

const data: HelperData = workerData;
const say = (message: HelperMessage): void => parentPort?.postMessage(message);

if (mayBegin(data)) {
	await takeTurns(data, (from, outcomes) => say({ from, outcomes }));
	say("done");
}
