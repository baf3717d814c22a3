# Asks fish what it would offer. Usage: ask.fish COMPLETION CASES
source $argv[1]
set -g wrong 0
set -l asked 0
while read -l line
  set -l parts (string split \t -- $line)
  if string match -q '#*' -- $parts[1]; or test -z "$parts[1]"
    continue
  end
  set -l wanted (string replace -r '^!' '' -- $parts[2])
  set -l found no
  for offer in (complete -C $parts[1])
    # "always	help", and a folder with its stroke
    if test (string replace -r '/$' '' -- (string split \t -- $offer)[1]) = $wanted
      set found yes
    end
  end
  set -l want yes
  if string match -q '!*' -- $parts[2]
    set want no
  end
  if test $found != $want
    echo "fish: \"$parts[1]\": $parts[2], but there are: "(complete -C $parts[1] | string join ' ') >&2
    set wrong 1
  end
  set asked (math $asked + 1)
end < $argv[2]
test $asked -ge 15; or set wrong 1
exit $wrong
