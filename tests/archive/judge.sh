#!/bin/sh
# An archive checked without our program: the two lines of its README for each job, the chain, and
# that no file is there which no inventory lists. usage: judge.sh ARCHIVE
set -eu
cd "$1"
for job in */; do
  ( cd "$job"
    sha512sum -c --quiet inventory.json.sha512
    jq -r '.manifest|to_entries[]|.key as $d|.value[]|"\($d)  \(.)"' inventory.json > "$2"
    sha512sum -c --quiet "$2"
    cmp inventory.json "$(jq -r .head inventory.json)/inventory.json"
    for v in v*/; do ( cd "$v" && sha512sum -c --quiet inventory.json.sha512 ); done
    cut -c131- "$2" | sort > "$2.listed"
    find v*/content -type f | sort | cmp - "$2.listed" )
done
previous=$(printf '%0128d' 0)
jq -r '"\(.sequence) \(input_filename)"' */v*/content/issue.json | sort -n > "$2"
while read -r sequence file; do
  test "$(jq -r .previous "$file")" = "$previous"
  previous=$(sha512sum "$file" | cut -d' ' -f1)
done < "$2"
jq -r '.root_files|to_entries[]|"\(.value)  \(.key)"' "$(head -1 "$2" | cut -d' ' -f2)" | sha512sum -c --quiet
