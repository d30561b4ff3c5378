/**
 * Diagnostics: the findings of a plan. Pulled by clients that do, with result ids; pushed to the others at once after
 * each change. One that says it can pull is pushed to until it pulls for the first time. A plan that is open as text and
 * as a notebook has them in the face that is in front alone, where the client says which.
 */
import {
	type Diagnostic,
	DiagnosticSeverity,
	type DocumentDiagnosticReport,
	DocumentDiagnosticReportKind,
	RAL,
	type ServerCapabilities,
	type WorkspaceDiagnosticReport,
	type WorkspaceDocumentDiagnosticReport,
} from "vscode-languageserver";
import type { Finding, Severity } from "../../shared/findings/finding.ts";
import { explanationUri } from "../../shared/protocol/explanation.ts";
import { FACE_IN_FRONT, type Face, NOTEBOOK_SHOWN } from "../../shared/protocol/faces.ts";
import { LANGUAGE } from "../../shared/protocol/language.ts";
import { hear } from "../../shared/protocol/message.ts";
import type { PlanDocument } from "../plan-document.ts";
import { CellText, isIn, type NotebookPlan, type PlanText, planUri } from "../plan-text.ts";
import type { Feature } from "../session.ts";

const SEVERITIES: Readonly<Record<Severity, DiagnosticSeverity>> = {
	error: DiagnosticSeverity.Error,
	warning: DiagnosticSeverity.Warning,
	info: DiagnosticSeverity.Information,
};

/** How long a plan is checked at a time: less than a person notices. */
const SLICE_MS = 8;

/** The result id of a text that is not open. */
const CLOSED = "closed";
/** The same where it is not known yet that the client took it. */
const CLOSING = "closing";

export const diagnostics: Feature = {
	capabilities: (client): ServerCapabilities =>
		client.textDocument?.diagnostic
			? { diagnosticProvider: { identifier: LANGUAGE, interFileDependencies: true, workspaceDiagnostics: true } }
			: {},
	listen(session) {
		const { connection, documents } = session;
		const canPull = (): boolean => session.client.textDocument?.diagnostic !== undefined;
		let pulled = false;
		// The extension pulls as soon as a plan is opened.
		const pulls = (): boolean => canPull() && (pulled || session.ownClient);
		/**
		 * Plans that were closed, until the client has said twice that it took it: while it waits for an answer about one by
		 * itself, it takes no other, and it forgets what it knew of one that is closed meanwhile.
		 */
		const leaving = new Set<string>();
		let asksForAll = false;
		const pushedTo = new Set<string>();
		/** The client pulls from now on: what was pushed to it would be there twice. */
		const nowPulls = (): void => {
			if (pulled || !canPull()) return;
			pulled = true;
			for (const uri of pushedTo) void connection.sendDiagnostics({ uri, diagnostics: [] });
			pushedTo.clear();
		};
		/** Of plans whose client has said so, by their URIs. */
		const inFront = new Map<string, Face>();
		/** Notebooks that are open and in no tab. */
		const unseen = new Set<string>();
		const isOpenTwice = (uri: string): boolean =>
			documents.get(uri) !== undefined && session.notebooks.plan(uri) !== undefined && !unseen.has(uri);
		/** Whether a text's findings are told in the plan's other face, or it is in no tab. */
		const isBehind = (document: PlanText): boolean => {
			const uri = planUri(document);
			const own = document instanceof CellText ? "notebook" : "text";
			if (own === "notebook" && unseen.has(uri)) return true;
			return (inFront.get(uri) ?? own) !== own && isOpenTwice(uri);
		};
		const diagnosticsHere = (document: PlanText, plan: PlanDocument): Diagnostic[] =>
			isBehind(document) ? [] : diagnosticsOf(document, plan, session.ownClient);
		const resultIdOf = (uri: string): string => {
			const document = documents.get(uri);
			if (!document) return CLOSED;
			return `${document.version}.${session.library.generation}${isBehind(document) ? ".behind" : ""}`;
		};
		connection.languages.diagnostics.on(
			async ({ textDocument, previousResultId }): Promise<DocumentDiagnosticReport> => {
				nowPulls();
				// Those of a notebook's cells are pushed: an edit of one changes them in others.
				const items = session.notebooks.cell(textDocument.uri)
					? []
					: ((await session.guardedWhenRead("diagnostics", textDocument.uri, diagnosticsHere)) ?? []);
				const resultId = resultIdOf(textDocument.uri);
				return resultId === previousResultId
					? { kind: DocumentDiagnosticReportKind.Unchanged, resultId }
					: { kind: DocumentDiagnosticReportKind.Full, resultId, items };
			},
		);
		connection.languages.diagnostics.onWorkspace(({ previousResultIds }): WorkspaceDiagnosticReport => {
			nowPulls();
			asksForAll = true;
			const known = new Map(previousResultIds.map(({ uri, value }) => [uri, value]));
			for (const [uri, id] of known) {
				if (id === CLOSED) leaving.delete(uri);
				else if (!documents.get(uri)) leaving.add(uri);
			}
			const gone = [...leaving].map(
				(uri): WorkspaceDocumentDiagnosticReport => ({
					kind: DocumentDiagnosticReportKind.Full,
					uri,
					version: null,
					resultId: known.get(uri) === CLOSING ? CLOSED : CLOSING,
					items: [],
				}),
			);
			const open = documents.all().map(({ uri, version }): WorkspaceDocumentDiagnosticReport => {
				const resultId = resultIdOf(uri);
				if (known.get(uri) === resultId)
					return { kind: DocumentDiagnosticReportKind.Unchanged, uri, version, resultId };
				return {
					kind: DocumentDiagnosticReportKind.Full,
					uri,
					version,
					resultId,
					items: session.guarded("diagnostics", uri, diagnosticsHere) ?? [],
				};
			});
			return { items: [...gone, ...open] };
		});
		const push = (document: PlanText): void => {
			const items = session.guarded("diagnostics", document.uri, diagnosticsHere) ?? [];
			pushedTo.add(document.uri);
			void connection.sendDiagnostics({ uri: document.uri, version: document.version, diagnostics: items });
		};
		/** A long plan is checked for some milliseconds at a time: what is asked meanwhile is answered. */
		const checkAndPush = (document: PlanText): void => {
			const steps = session.guarded("diagnostics", document.uri, (_, plan) => plan.checking(document));
			const { version } = document;
			const go = (): void => {
				// A later version has its own turn.
				if (!steps || documents.get(document.uri)?.version !== version) return;
				const until = performance.now() + SLICE_MS;
				const rests = session.guarded("diagnostics", document.uri, () => {
					while (!steps.next().done) if (performance.now() > until) return true;
					return false;
				});
				if (rests) RAL().timer.setImmediate(go);
				else push(document);
			};
			go();
		};
		/**
		 * After what the client has asked in the same breath: a hover does not wait for all findings. The connection reads
		 * and writes in turns of its own; four let a request through that was sent right after the edit.
		 */
		const waiting = new Set<string>();
		const pushSoon = ({ uri }: Pick<PlanText, "uri">): void => {
			if (waiting.has(uri)) return;
			waiting.add(uri);
			const later = (turns: number): void => {
				RAL().timer.setImmediate(() => {
					if (turns > 1) return later(turns - 1);
					waiting.delete(uri);
					const document = documents.get(uri);
					if (document && !pulls()) checkAndPush(document);
				});
			};
			later(4);
		};
		documents.onDidChangeContent(({ document }) => {
			if (!pulls()) pushSoon(document);
		});
		documents.onDidClose(({ document }) => {
			if (pushedTo.delete(document.uri)) void connection.sendDiagnostics({ uri: document.uri, diagnostics: [] });
		});
		/** Sends what a notebook's cells have now, where it is not what they had. */
		const pushed = new Map<string, string>();
		const pushCells = (notebook: NotebookPlan): void => {
			for (const { uri } of notebook.cells) {
				const items = session.guarded("diagnostics", uri, diagnosticsHere) ?? [];
				const text = JSON.stringify(items);
				if ((pushed.get(uri) ?? "[]") === text) continue;
				pushed.set(uri, text);
				void connection.sendDiagnostics({ uri, diagnostics: items });
			}
		};
		session.onNotebookChange((now, before) => {
			for (const { uri } of before?.cells ?? []) {
				if (session.notebooks.cell(uri) || !pushed.delete(uri)) continue;
				void connection.sendDiagnostics({ uri, diagnostics: [] });
			}
			if (now) pushCells(now);
		});
		const pullAgain = (): void => {
			if (session.client.workspace?.diagnostics?.refreshSupport)
				session.askAgain(() => connection.languages.diagnostics.refresh());
		};
		session.onRefresh(() => {
			session.notebooks.all().forEach(pushCells);
			if (!pulls()) documents.all().forEach(pushSoon);
			else pullAgain();
		});
		/** The findings of a plan that is, or was, open twice move from one face to the other. */
		const moved = (uri: string): void => {
			const notebook = session.notebooks.plan(uri);
			if (notebook) pushCells(notebook);
			const document = documents.get(uri);
			if (!document) return;
			if (pulls()) pullAgain();
			else pushSoon(document);
		};
		hear(connection, FACE_IN_FRONT, ({ uri, face }) => {
			inFront.set(String(uri), face === "notebook" ? "notebook" : "text");
			if (isOpenTwice(uri)) moved(uri);
		});
		hear(connection, NOTEBOOK_SHOWN, ({ uri, shown }) => {
			const key = String(uri);
			unseen[shown ? "delete" : "add"](key);
			moved(key);
		});
		const openedOrClosed = (uri: string): void => {
			if (inFront.has(uri)) moved(uri);
		};
		documents.onDidOpen(({ document: { uri } }) => {
			leaving.delete(uri);
			openedOrClosed(uri);
		});
		documents.onDidClose(({ document: { uri } }) => {
			// A client that has never asked for all of them has its own way to be rid of one.
			if (asksForAll) leaving.add(uri);
			openedOrClosed(uri);
			if (!session.notebooks.plan(uri)) inFront.delete(uri);
		});
		session.onNotebookChange((now, before) => {
			if (now && before) return;
			const { uri = "" } = now ?? before ?? {};
			if (!now) unseen.delete(uri);
			openedOrClosed(uri);
			if (!now && !documents.get(uri)) inFront.delete(uri);
		});
	},
};

/** `linked`: with links that only the extension can open. */
export function diagnosticsOf(document: PlanText, plan: PlanDocument, linked: boolean): Diagnostic[] {
	return plan
		.findings(document)
		.filter(({ from }) => isIn(document, from))
		.map((finding) => diagnosticOf(document, finding, linked));
}

export function diagnosticOf(
	document: PlanText,
	{ code, severity, from, to, message }: Finding,
	linked: boolean,
): Diagnostic {
	return {
		range: { start: document.positionAt(from), end: document.positionAt(to) },
		severity: SEVERITIES[severity],
		source: LANGUAGE,
		code,
		...(linked && { codeDescription: { href: explanationUri(code) } }),
		message,
	};
}
