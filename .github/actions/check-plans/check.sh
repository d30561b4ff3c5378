#!/usr/bin/env bash
# Checks the plans changed since $BASE: annotations on standard output, a summary in $RUNNER_TEMP, exit status of the check.
# What git cannot answer ends it with status 2: a check that saw nothing must not look like one that found nothing.
set -euo pipefail
: "${BASE:?the commit to compare with}" "${CLI:?the command line, built}" "${FAIL_ON:=error}"
# The most that is read as a plan.
LARGEST=5000000
summary="${RUNNER_TEMP:-/tmp}/lodebook-summary.md"
echo "summary=$summary" >>"${GITHUB_OUTPUT:-/dev/null}"
: >"$summary"

fail() {
	echo "::error title=Plans are not checked::$1"
	echo "Plans are not checked: $1" >>"$summary"
	cat "$summary" >>"${GITHUB_STEP_SUMMARY:-/dev/null}"
	exit 2
}

# A name from a stranger, in letters that mean nothing to a log, a workflow or Markdown.
shown() {
	local LC_ALL=C name=$1 out='' i c
	for ((i = 0; i < ${#name}; i++)); do
		c=${name:i:1}
		case $c in
		[A-Za-z0-9./@+=\ _-]) out+=$c ;;
		*)
			printf -v c '%d' "'$c"
			printf -v c '\\x%02x' $((c & 255))
			out+=$c
			;;
		esac
	done
	printf '%s' "$out"
}

skip() {
	local name
	name=$(shown "$1")
	echo "::notice title=Plan is not checked::$name: $2"
	echo "- \`$name\` is not checked: $2" >>"$summary"
	skipped=$((skipped + 1))
}

# A shallow clone may lack the base, or what leads from there to here.
if ! base=$(git merge-base "$BASE" HEAD 2>/dev/null); then
	head=$(git rev-parse --verify 'HEAD^{commit}') || fail "this is not a git repository with a commit."
	deepen=()
	if [ "$(git rev-parse --is-shallow-repository)" = true ]; then deepen=(--unshallow); fi
	git fetch --quiet --no-tags ${deepen[@]+"${deepen[@]}"} origin "$BASE" "$head" >&2 ||
		fail "the base commit is not in this clone and cannot be fetched. Check out with fetch-depth: 0."
	base=$(git merge-base "$BASE" HEAD) ||
		fail "the base commit and this one have no history in common. Check out with fetch-depth: 0."
fi

changes=$(mktemp)
compared=$(mktemp)
trap 'rm -f "$changes" "$compared"' EXIT
# T: what was a file and is a link now, or the other way about.
git diff --raw -z -M --no-abbrev --diff-filter=AMTRD "$base" HEAD -- '*.lode.yaml' >"$changes" ||
	fail "git diff failed."

plans=()
skipped=0
gone=0
declare -A seen=()
while IFS= read -r -d '' about; do
	IFS= read -r -d '' plan || fail "git diff was cut short."
	read -r _ mode _ blob what <<<"$about"
	case $what in
	R*) IFS= read -r -d '' plan || fail "git diff was cut short." ;;
	D*)
		# The comparison tells of it.
		gone=$((gone + 1))
		continue
		;;
	esac
	seen[$plan]=1
	case $mode in
	100*) ;;
	120000)
		skip "$plan" "it is a symbolic link, and links are not followed."
		continue
		;;
	*)
		skip "$plan" "it is not a file."
		continue
		;;
	esac
	size=$(git cat-file -s "$blob") || fail "git cat-file failed."
	if [ "$size" -gt "$LARGEST" ]; then
		skip "$plan" "it has $size bytes, and at most $LARGEST are read."
		continue
	fi
	# What is checked is the file in this folder: it must be the one that was committed.
	if [ -L "$plan" ] || { [ -e "$plan" ] && [ ! -f "$plan" ]; }; then
		skip "$plan" "it is not a file in the folder that is checked."
		continue
	fi
	[ -f "$plan" ] || fail "$(shown "$plan") is not in the folder that is checked. Check out all files."
	plans+=("$plan")
done <"$changes"
if [ $skipped -gt 0 ]; then echo >>"$summary"; fi

status=0
if [ ${#plans[@]} -eq 0 ] && [ $gone -eq 0 ]; then
	if [ $skipped -eq 0 ]; then echo "No plan is changed." | tee -a "$summary"; fi
else
	# Both states are read as git has them. Status 2: a plan could not be read, which is said above where it is left out.
	compare() {
		local answer=0
		node "$CLI" compare "$1" -- "$(git rev-parse --short "$base"):" HEAD: >"$compared" || answer=$?
		if [ "$answer" -ne 0 ] && { [ "$answer" -ne 2 ] || [ "$skipped" -eq 0 ] || [ ! -s "$compared" ]; }; then status=2; fi
	}
	# Plans that are not changed themselves, but take from one that is.
	compare --json
	while IFS= read -r -d '' plan; do
		if [ -z "${seen[$plan]-}" ] && [ -f "$plan" ] && [ ! -L "$plan" ]; then plans+=("$plan"); fi
	done < <(node -e 'for (const { path, state } of JSON.parse(require("fs").readFileSync(0, "utf8") || "{}").plans ?? [])
		if (state === "changed") process.stdout.write(`${path}\0`)' <"$compared")
	if [ ${#plans[@]} -gt 0 ]; then
		answer=0
		node "$CLI" check --annotations --fail-on "$FAIL_ON" -- "${plans[@]}" || answer=$?
		if [ "$answer" -gt "$status" ]; then status=$answer; fi
	fi
	compare --markdown
	cat "$compared" >>"$summary"
fi
# A comment may hold 65,536 characters.
if [ "$(wc -c <"$summary")" -gt 60000 ]; then
	# As many bytes, and no half of a character.
	node -e 'process.stdout.write(new TextDecoder().decode(require("fs").readFileSync(0).subarray(0, 60000), { stream: true }))' \
		<"$summary" >"$summary.cut"
	printf '\n\n</details>\n\nThe rest is left out: it is too long for a comment.\n' >>"$summary.cut"
	mv "$summary.cut" "$summary"
fi
cat "$summary" >>"${GITHUB_STEP_SUMMARY:-/dev/null}"
exit "$status"
