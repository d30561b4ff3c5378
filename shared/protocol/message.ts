/**
 * How client and server name what they ask and tell each other. A message's name and the types that go with it are one
 * value: who sends it and who takes it import the same, so that neither can be wrong about the other.
 */

/** A request: its name, with the types of its parameters and its answer. */
export interface RequestOf<Params, Answer> {
	readonly method: string;
	/** Never there: it holds the types. */
	readonly types?: (params: Params) => Answer;
}

/** A notification: its name, with the type of what it tells. */
export interface NotificationOf<Params> {
	readonly method: string;
	/** Never there: it holds the type. */
	readonly types?: (params: Params) => void;
}

/** What a request asks with. */
export type ParamsOf<R> = R extends RequestOf<infer Params, unknown> ? Params : never;

/** Messages without parameters are sent without any. */
type Sent<Params> = Params extends void ? [] : [params: Params];

/** An end of the connection, as either end has it. What comes over it is checked by nobody: it is what was promised. */
interface End {
	sendRequest(method: string, ...params: unknown[]): Promise<unknown>;
	sendNotification(method: string, ...params: unknown[]): Promise<void>;
	onRequest(method: string, answer: (params: unknown) => unknown): Listening;
	onNotification(method: string, hear: (params: unknown) => void): Listening;
}

interface Listening {
	dispose(): void;
}

/** Asks the other end. */
export const ask = <Params, Answer>(
	end: Pick<End, "sendRequest">,
	{ method }: RequestOf<Params, Answer>,
	...params: Sent<Params>
): Promise<Answer> => end.sendRequest(method, ...params) as Promise<Answer>;

/** Answers what the other end asks. */
export const answer = <Params, Answer>(
	end: Pick<End, "onRequest">,
	{ method }: RequestOf<Params, Answer>,
	give: (params: Params) => Answer | Promise<Answer>,
): Listening => end.onRequest(method, give as (params: unknown) => Answer | Promise<Answer>);

/** Tells the other end. */
export const tell = <Params>(
	end: Pick<End, "sendNotification">,
	{ method }: NotificationOf<Params>,
	...params: Sent<Params>
): Promise<void> => end.sendNotification(method, ...params);

/** Hears what the other end tells. */
export const hear = <Params>(
	end: Pick<End, "onNotification">,
	{ method }: NotificationOf<Params>,
	take: (params: Params) => void,
): Listening => end.onNotification(method, take as (params: unknown) => void);
