# Asks the completion function as bash does. Usage: ask.bash COMPLETION CASES
. "$1"
wrong=0 asked=0
while IFS=$'\t' read -r typed wanted; do
  [[ $typed == \#* || -z $typed ]] && continue
  read -r -a COMP_WORDS <<< "$typed"
  [[ $typed == *' ' ]] && COMP_WORDS+=('')
  COMP_CWORD=$((${#COMP_WORDS[@]} - 1))
  COMPREPLY=()
  _ohmleaf
  found=no
  for word in "${COMPREPLY[@]}"; do [[ $word == "${wanted#!}" ]] && found=yes; done
  if [[ $wanted == !* && $found == yes || $wanted != !* && $found == no ]]; then
    echo "bash: \"$typed\": $wanted, but there are: ${COMPREPLY[*]}" >&2
    wrong=1
  fi
  asked=$((asked + 1))
done < "$2"
complete -p ohmleaf | grep -q _ohmleaf || { echo "bash: not registered" >&2; wrong=1; }
[[ $asked -ge 15 ]] || wrong=1
exit $wrong
