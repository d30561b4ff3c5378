/** The order of a server's life: nothing is answered before `initialize`, and nothing after `shutdown`. */
import {
	ErrorCodes,
	Message,
	type MessageReader,
	type MessageWriter,
	type ResponseMessage,
} from "vscode-languageserver";

export interface LifeCycle {
	/** The reader, without what comes out of order: requests are refused, notifications passed over. */
	readonly reader: MessageReader;
	readonly isShutDown: () => boolean;
}

export function lifeCycle(reader: MessageReader, writer: MessageWriter): LifeCycle {
	let state: "new" | "running" | "shut down" = "new";
	/** Why a request cannot be taken now. */
	const refusal = (method: string): { code: number; message: string } | undefined => {
		if (state === "shut down") return { code: ErrorCodes.InvalidRequest, message: "The server was shut down." };
		if (method === "initialize")
			return state === "new"
				? undefined
				: { code: ErrorCodes.InvalidRequest, message: "The server was initialized already." };
		return state === "running"
			? undefined
			: { code: ErrorCodes.ServerNotInitialized, message: "The server has not been initialized." };
	};
	const passes = (message: Message | null): boolean => {
		if (!message || typeof message !== "object") return true;
		if (Message.isNotification(message)) return message.method === "exit" || state === "running";
		if (!Message.isRequest(message)) return true;
		const error = refusal(message.method);
		if (error) {
			const answer: ResponseMessage = { jsonrpc: "2.0", id: message.id, error };
			void writer.write(answer).catch(() => {});
			return false;
		}
		if (message.method === "initialize") state = "running";
		if (message.method === "shutdown") state = "shut down";
		return true;
	};
	return {
		reader: {
			onError: reader.onError,
			onClose: reader.onClose,
			onPartialMessage: reader.onPartialMessage,
			listen: (take) => reader.listen((message) => void (passes(message) && take(message))),
			dispose: () => reader.dispose(),
		},
		isShutDown: () => state === "shut down",
	};
}
