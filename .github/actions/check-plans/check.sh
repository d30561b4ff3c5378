#!/usr/bin/env bash
# Checks the plans changed since $BASE: annotations on standard output, a summary in $RUNNER_TEMP, exit status of the check.
set -euo pipefail
: "${BASE:?the commit to compare with}" "${CLI:?the command line, built}" "${FAIL_ON:=error}"
summary="${RUNNER_TEMP:-/tmp}/lodebook-summary.md"
echo "summary=$summary" >>"${GITHUB_OUTPUT:-/dev/null}"
: >"$summary"
mapfile -d '' -t plans < <(git diff --name-only -z --diff-filter=AMR "$BASE"...HEAD -- '*.lode.yaml')
if [ ${#plans[@]} -eq 0 ]; then
	echo "No plan is changed." | tee -a "$summary"
	exit 0
fi
status=0
node "$CLI" check --annotations --fail-on "$FAIL_ON" -- "${plans[@]}" || status=$?
for plan in "${plans[@]}"; do
	if git cat-file -e "$BASE:$plan" 2>/dev/null; then
		node "$CLI" compare --markdown -- "$BASE:$plan" "$plan" >>"$summary"
	else
		node "$CLI" show --markdown -- "$plan" >>"$summary"
	fi
	echo >>"$summary"
done
# A comment may hold 65,536 characters.
if [ "$(wc -c <"$summary")" -gt 60000 ]; then
	head -c 60000 "$summary" >"$summary.cut"
	printf '\n\n</details>\n\nThe rest is left out: it is too long for a comment.\n' >>"$summary.cut"
	mv "$summary.cut" "$summary"
fi
cat "$summary" >>"${GITHUB_STEP_SUMMARY:-/dev/null}"
exit "$status"
