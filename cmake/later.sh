#!/bin/sh
# later.sh OUT.S LIBRARY.so … -- ARCHIVE.a …
#
# Writes, for x86-64, a way into every function of the LIBRARIES that the ARCHIVES call: a jump
# through a table, which src/later.cpp fills when the function is first called by opening the
# library then. A program that links it ahead of the libraries starts without them.
set -eu
export LC_ALL=C
out=$1
shift
libraries=""
while [ "$1" != -- ]; do
  libraries="$libraries $1"
  shift
done
shift

scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
nm -u "$@" 2>/dev/null | awk '$1 == "U" { print $2 }' | sort -u > "$scratch/wanted"

number=0
: > "$scratch/found"
: > "$scratch/names"
for library in $libraries; do
  soname=$(objdump -p "$library" | awk '$1 == "SONAME" { print $2 }')
  printf '  .asciz "%s"\n' "$soname" >> "$scratch/names"
  nm -D --defined-only "$library" | awk '{ sub(/@.*/, "", $3); print $3, $2 }' | sort -u |
    join - "$scratch/wanted" > "$scratch/here"
  if grep -v ' [TWi]$' "$scratch/here" >&2; then
    echo "later.sh: $soname: this is data, which cannot be reached later" >&2
    exit 1
  fi
  awk -v n=$number '{ print $1, n }' "$scratch/here" >> "$scratch/found"
  number=$((number + 1))
done

{
  cat <<'HEAD'
# Made by cmake/later.sh. The way that a call takes when its function is not known yet: all
# registers that carry arguments are kept, later_find (src/later.cpp) gives the address.
  .text
  .type later_resolve, @function
later_resolve:
  .cfi_startproc
  pushq %rbp
  .cfi_def_cfa_offset 16
  .cfi_offset %rbp, -16
  movq %rsp, %rbp
  .cfi_def_cfa_register %rbp
  pushq %rax
  pushq %rdi
  pushq %rsi
  pushq %rdx
  pushq %rcx
  pushq %r8
  pushq %r9
  pushq %r10
  subq $128, %rsp
  movups %xmm0, 0(%rsp)
  movups %xmm1, 16(%rsp)
  movups %xmm2, 32(%rsp)
  movups %xmm3, 48(%rsp)
  movups %xmm4, 64(%rsp)
  movups %xmm5, 80(%rsp)
  movups %xmm6, 96(%rsp)
  movups %xmm7, 112(%rsp)
  movl %r11d, %edi
  call later_find
  movq %rax, %r11
  movups 0(%rsp), %xmm0
  movups 16(%rsp), %xmm1
  movups 32(%rsp), %xmm2
  movups 48(%rsp), %xmm3
  movups 64(%rsp), %xmm4
  movups 80(%rsp), %xmm5
  movups 96(%rsp), %xmm6
  movups 112(%rsp), %xmm7
  addq $128, %rsp
  popq %r10
  popq %r9
  popq %r8
  popq %rcx
  popq %rdx
  popq %rsi
  popq %rdi
  popq %rax
  popq %rbp
  .cfi_def_cfa %rsp, 8
  jmp *%r11
  .cfi_endproc
HEAD
  awk '{
    printf "  .globl %s\n  .type %s, @function\n%s:\n  .cfi_startproc\n", $1, $1, $1
    printf "  endbr64\n  movq later_table+%d(%%rip), %%r11\n  testq %%r11, %%r11\n", 8 * (NR - 1)
    printf "  jz 1f\n  jmp *%%r11\n1: movl $%d, %%r11d\n  jmp later_resolve\n  .cfi_endproc\n", NR - 1
  }' "$scratch/found"
  echo '  .section .rodata'
  echo '  .globl later_libraries'
  echo 'later_libraries:'
  cat "$scratch/names"
  echo '  .globl later_functions'
  echo 'later_functions:'
  awk '{ printf "  .byte %d\n  .asciz \"%s\"\n", $2, $1 }' "$scratch/found"
  echo '  .bss'
  echo '  .balign 8'
  echo '  .globl later_table'
  echo 'later_table:'
  printf '  .skip %d\n' $((8 * $(wc -l < "$scratch/found") + 8))
  echo '  .section .note.GNU-stack,"",@progbits'
} > "$out.new"
mv "$out.new" "$out"
