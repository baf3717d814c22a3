# Types into a zsh with the completion loaded, and reads what it offers.
# Usage: ask.zsh FOLDER CASES
zmodload zsh/zpty || exit 1
init=$(mktemp)
cat > $init <<END
PROMPT= RPROMPT= PS2=
unset zle_bracketed_paste; unsetopt beep
bindkey -e
fpath=($1 \$fpath)
autoload -Uz compinit && compinit -u -D
# Every word is caught where the completion hands it over.
compadd() {
  if [[ \${@[1,(i)(-|--)]} == *-(O|A|D)\ * ]]; then builtin compadd "\$@"; return; fi
  local -a hits
  builtin compadd -A hits "\$@"
  (( \$#hits )) && print -rl -- \\<\${^hits}\\>
  builtin compadd "\$@"
}
ask_begin() { print -r -- '[[BEGIN]]' }
ask_end() { print -r -- '[[END]]' }
compprefuncs=(ask_begin) comppostfuncs=(ask_end)
list() { compprefuncs=(ask_begin) comppostfuncs=(ask_end); _main_complete; compstate[insert]= compstate[list]= }
zle -C list-all complete-word list
bindkey '^X' list-all
print REA''DY
END
zpty shell 'zsh -f -i'
await() {  # collects what the shell writes until the sign comes
  local chunk
  seen=
  repeat 6000; do  # a minute: other tests run beside this one
    if zpty -r -t shell chunk; then
      seen+=$chunk
      [[ $seen == *$1* ]] && return 0
    else
      sleep 0.01
    fi
  done
  return 1
}
zpty -w shell ". $init"
await READY || { print -u2 "zsh: the shell does not answer: $seen"; exit 1; }
wrong=0 asked=0
while IFS=$'\t' read -r typed wanted; do
  [[ $typed == \#* || -z $typed ]] && continue
  zpty -w -n shell "$typed"$'\C-x'
  await '[[END]]' || { print -u2 "zsh: \"$typed\": no answer: $seen"; exit 1; }
  zpty -w -n shell $'\C-u'
  found=no
  [[ $seen == *"<${wanted#!}>"* ]] && found=yes
  if [[ ( $wanted == !* && $found == yes ) || ( $wanted != !* && $found == no ) ]]; then
    print -u2 "zsh: \"$typed\": $wanted, but there are: ${(q+)seen}"
    wrong=1
  fi
  asked=$((asked + 1))
done < $2
zpty -d shell
rm -f $init
(( asked >= ${3:-15} )) || wrong=1
exit $wrong
