/**
 * Diagnostics: the findings of a plan. Pulled by clients that do, with result ids; pushed to the others at once after
 * each change. One that says it can pull is pushed to until it pulls for the first time.
 */
import {
	type Diagnostic,
	DiagnosticSeverity,
	type DocumentDiagnosticReport,
	DocumentDiagnosticReportKind,
	RAL,
	type ServerCapabilities,
	type WorkspaceDiagnosticReport,
} from "vscode-languageserver";
import type { Finding, Severity } from "../../shared/findings/finding.ts";
import { explanationUri } from "../../shared/protocol/explanation.ts";
import { LANGUAGE } from "../../shared/protocol/language.ts";
import type { PlanDocument } from "../plan-document.ts";
import { isIn, type NotebookPlan, type PlanText } from "../plan-text.ts";
import type { Feature } from "../session.ts";

const SEVERITIES: Readonly<Record<Severity, DiagnosticSeverity>> = {
	error: DiagnosticSeverity.Error,
	warning: DiagnosticSeverity.Warning,
	info: DiagnosticSeverity.Information,
};

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
		const pushedTo = new Set<string>();
		/** The client pulls from now on: what was pushed to it would be there twice. */
		const nowPulls = (): void => {
			if (pulled || !canPull()) return;
			pulled = true;
			for (const uri of pushedTo) void connection.sendDiagnostics({ uri, diagnostics: [] });
			pushedTo.clear();
		};
		const diagnosticsHere = (document: PlanText, plan: PlanDocument): Diagnostic[] =>
			diagnosticsOf(document, plan, session.ownClient);
		const resultIdOf = (uri: string): string =>
			`${documents.get(uri)?.version ?? "none"}.${session.library.generation}`;
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
			const known = new Map(previousResultIds.map(({ uri, value }) => [uri, value]));
			return {
				items: documents.all().map(({ uri, version }) => {
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
				}),
			};
		});
		const push = (document: PlanText): void => {
			const items = session.guarded("diagnostics", document.uri, diagnosticsHere) ?? [];
			pushedTo.add(document.uri);
			void connection.sendDiagnostics({ uri: document.uri, version: document.version, diagnostics: items });
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
					if (document && !pulls()) push(document);
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
		session.onRefresh(() => {
			session.notebooks.all().forEach(pushCells);
			if (!pulls()) documents.all().forEach(pushSoon);
			else if (session.client.workspace?.diagnostics?.refreshSupport)
				session.askAgain(() => connection.languages.diagnostics.refresh());
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
