/**
 * Diagnostics: the findings of a plan. Pulled by clients that can, with result ids; pushed to the others at once after
 * each change.
 */
import {
	type Diagnostic,
	DiagnosticSeverity,
	type DocumentDiagnosticReport,
	DocumentDiagnosticReportKind,
	type WorkspaceDiagnosticReport,
} from "vscode-languageserver";
import type { TextDocument } from "vscode-languageserver-textdocument";
import type { Finding, Severity } from "../../shared/findings/finding.ts";
import type { PlanDocument } from "../plan-document.ts";
import type { Feature } from "../session.ts";
import { explanationUri } from "./explanation.ts";

const SEVERITIES: Readonly<Record<Severity, DiagnosticSeverity>> = {
	error: DiagnosticSeverity.Error,
	warning: DiagnosticSeverity.Warning,
	info: DiagnosticSeverity.Information,
};

export const SOURCE = "lodebook";

export const diagnostics: Feature = {
	capabilities: (client) =>
		client.textDocument?.diagnostic ? { diagnosticProvider: { identifier: SOURCE, interFileDependencies: true, workspaceDiagnostics: true } } : {},
	listen(session) {
		const { connection, documents } = session;
		const pulls = (): boolean => session.client.textDocument?.diagnostic !== undefined;
		const resultIdOf = (uri: string): string => `${documents.get(uri)?.version ?? "none"}.${session.library.generation}`;
		connection.languages.diagnostics.on(({ textDocument, previousResultId }): DocumentDiagnosticReport => {
			const items = session.guarded("diagnostics", textDocument.uri, diagnosticsOf) ?? [];
			const resultId = resultIdOf(textDocument.uri);
			return resultId === previousResultId
				? { kind: DocumentDiagnosticReportKind.Unchanged, resultId }
				: { kind: DocumentDiagnosticReportKind.Full, resultId, items };
		});
		connection.languages.diagnostics.onWorkspace(({ previousResultIds }): WorkspaceDiagnosticReport => {
			const known = new Map(previousResultIds.map(({ uri, value }) => [uri, value]));
			return {
				items: documents.all().map(({ uri, version }) => {
					const resultId = resultIdOf(uri);
					if (known.get(uri) === resultId) return { kind: DocumentDiagnosticReportKind.Unchanged, uri, version, resultId };
					return { kind: DocumentDiagnosticReportKind.Full, uri, version, resultId, items: session.guarded("diagnostics", uri, diagnosticsOf) ?? [] };
				}),
			};
		});
		const push = (document: TextDocument): void => {
			const items = session.guarded("diagnostics", document.uri, diagnosticsOf) ?? [];
			void connection.sendDiagnostics({ uri: document.uri, version: document.version, diagnostics: items });
		};
		documents.onDidChangeContent(({ document }) => {
			if (!pulls()) push(document);
		});
		documents.onDidClose(({ document }) => {
			if (!pulls()) void connection.sendDiagnostics({ uri: document.uri, diagnostics: [] });
		});
		session.onRefresh(() => {
			if (!pulls()) documents.all().forEach(push);
			else if (session.client.workspace?.diagnostics?.refreshSupport) connection.languages.diagnostics.refresh();
		});
	},
};

export function diagnosticsOf(document: TextDocument, plan: PlanDocument): Diagnostic[] {
	return plan.findings(document).map((finding) => diagnosticOf(document, finding));
}

export function diagnosticOf(document: TextDocument, { code, severity, from, to, message }: Finding): Diagnostic {
	return {
		range: { start: document.positionAt(from), end: document.positionAt(to) },
		severity: SEVERITIES[severity],
		source: SOURCE,
		code,
		codeDescription: { href: explanationUri(code) },
		message,
	};
}
