#include "archive/tracer.h"

#include <linux/filter.h>
#include <linux/seccomp.h>
#include <signal.h>
#include <sys/mman.h>
#include <sys/prctl.h>
#include <sys/syscall.h>
#include <sys/wait.h>
#include <ucontext.h>
#include <unistd.h>

#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <exception>
#include <map>

// A filter in the kernel turns each system call of the child into SIGSYS; its handler counts, and
// makes the call itself through `tracer_gate`, whose address the filter lets pass, or answers for
// the kernel. No second process has to wake for each call, as with ptrace.
asm(R"(
  .text
  .globl tracer_gate
  .type tracer_gate, @function
tracer_gate:
  mov %rdi, %rax
  mov %rsi, %rdi
  mov %rdx, %rsi
  mov %rcx, %rdx
  mov %r8, %r10
  mov %r9, %r8
  mov 8(%rsp), %r9
  syscall
  .globl tracer_gate_end
tracer_gate_end:
  ret
  .size tracer_gate, .-tracer_gate
)");
extern "C" long tracer_gate(long number, long a, long b, long c, long d, long e, long f);
extern "C" const char tracer_gate_end[];

namespace tracer {
namespace {

/// More calls than any command here makes: only one that never gives up gets there.
constexpr int kEndless = 5000;

/// Shared with the parent, so that it outlives the child.
struct State {
  Fault fault;
  bool hurts = false;
  int seen = 0;
  int injected = 0;
  bool endless = false;
  bool traced = false;
  int count = 0;
  long calls[kEndless];
};
State* state = nullptr;  // of this child

void end_here() {
  tracer_gate(SYS_kill, tracer_gate(SYS_getpid, 0, 0, 0, 0, 0, 0), SIGKILL, 0, 0, 0, 0);
}

/// True if this call is one to hurt.
bool is_due(long call) {
  if (!state->hurts || (state->fault.call != -1 && state->fault.call != call)) return false;
  ++state->seen;
  return state->seen == state->fault.nth ||
         (state->fault.for_ever && state->seen > state->fault.nth);
}

/// What the kernel would answer; `whole` is the third argument, a write's count.
long answer(long call, const greg_t* r, long& whole, bool& done) {
  done = true;
  switch (state->fault.act) {
    case Act::cut:
      ++state->injected;
      tracer_gate(SYS_kill, tracer_gate(SYS_getpid, 0, 0, 0, 0, 0, 0), SIGSTOP, 0, 0, 0, 0);
      end_here();
      return 0;
    case Act::kill:
      ++state->injected;
      end_here();
      return 0;
    case Act::error:
      ++state->injected;
      // Linux gives the descriptor back even where it says that the close failed.
      if (call == SYS_close) tracer_gate(SYS_close, r[REG_RDI], 0, 0, 0, 0, 0);
      return -state->fault.value;
    case Act::lie:
      ++state->injected;
      return state->fault.value;
    case Act::lie_whole:
      ++state->injected;
      return whole;
    case Act::shorten:
      done = false;
      if (whole <= state->fault.value) return 0;
      ++state->injected;
      whole = state->fault.value;
      return 0;
  }
  return 0;
}

void on_call(int, siginfo_t* info, void* context) {
  greg_t* r = static_cast<ucontext_t*>(context)->uc_mcontext.gregs;
  const long call = info->si_syscall;
  if (state->count == kEndless) {
    state->endless = true;
    end_here();
  }
  state->calls[state->count++] = call;
  long third = r[REG_RDX];
  if (is_due(call)) {
    bool done = false;
    const long given = answer(call, r, third, done);
    if (done) {
      r[REG_RAX] = given;
      return;
    }
  }
  r[REG_RAX] = tracer_gate(call, r[REG_RDI], r[REG_RSI], third, r[REG_R10], r[REG_R8], r[REG_R9]);
}

bool trap_all_calls() {
  struct sigaction action {};
  action.sa_sigaction = on_call;
  action.sa_flags = SA_SIGINFO | SA_NODEFER;
  if (::sigaction(SIGSYS, &action, nullptr) != 0) return false;
  const auto gate = reinterpret_cast<std::uintptr_t>(tracer_gate_end);
  const auto low = static_cast<std::uint32_t>(gate), high = static_cast<std::uint32_t>(gate >> 32);
  constexpr std::uint32_t kNumber = offsetof(seccomp_data, nr);
  constexpr std::uint32_t kFrom = offsetof(seccomp_data, instruction_pointer);
  sock_filter program[] = {
      BPF_STMT(BPF_LD | BPF_W | BPF_ABS, kNumber),
      BPF_JUMP(BPF_JMP | BPF_JEQ | BPF_K, SYS_rt_sigreturn, 6, 0),
      BPF_JUMP(BPF_JMP | BPF_JEQ | BPF_K, SYS_exit_group, 5, 0),
      BPF_STMT(BPF_LD | BPF_W | BPF_ABS, kFrom),
      BPF_JUMP(BPF_JMP | BPF_JEQ | BPF_K, low, 0, 2),
      BPF_STMT(BPF_LD | BPF_W | BPF_ABS, kFrom + 4),
      BPF_JUMP(BPF_JMP | BPF_JEQ | BPF_K, high, 1, 0),
      BPF_STMT(BPF_RET | BPF_K, SECCOMP_RET_TRAP),
      BPF_STMT(BPF_RET | BPF_K, SECCOMP_RET_ALLOW),
  };
  const sock_fprog filter{sizeof program / sizeof *program, program};
  return ::prctl(PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0) == 0 &&
         ::prctl(PR_SET_SECCOMP, SECCOMP_MODE_FILTER, &filter) == 0;
}

[[noreturn]] void child(const std::function<int()>& work) {
  state->traced = trap_all_calls();
  int code = 99;
  try {
    if (state->traced) code = work();
  } catch (const std::exception& e) {
    std::fprintf(stderr, "the traced command threw: %s\n", e.what());
  }
  ::_exit(code);
}

}  // namespace

std::optional<Run> run(const std::function<int()>& work, const std::optional<Fault>& fault,
                       const std::function<void()>& held) {
  void* shared =
      ::mmap(nullptr, sizeof(State), PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
  if (shared == MAP_FAILED) return std::nullopt;
  state = new (shared) State;
  state->hurts = fault.has_value();
  state->fault = fault.value_or(Fault{});
  const pid_t pid = ::fork();
  if (pid == 0) child(work);
  int status = 0;
  bool known = pid > 0 && ::waitpid(pid, &status, WUNTRACED) == pid;
  if (known && WIFSTOPPED(status)) {
    if (held) held();
    ::kill(pid, SIGKILL);
    known = ::waitpid(pid, &status, 0) == pid;
  }
  Run result;
  if (known && WIFEXITED(status)) result.exit_code = WEXITSTATUS(status);
  result.injected = state->injected;
  result.endless = state->endless;
  result.calls.assign(state->calls, state->calls + state->count);
  known = known && state->traced;
  ::munmap(shared, sizeof(State));
  if (!known) return std::nullopt;
  return result;
}

std::string name_of(long call) {
  static const std::map<long, const char*> kNames{
      {SYS_open, "open"},           {SYS_openat, "openat"},        {SYS_openat2, "openat2"},
      {SYS_read, "read"},           {SYS_write, "write"},          {SYS_pread64, "pread64"},
      {SYS_pwrite64, "pwrite64"},   {SYS_close, "close"},          {SYS_fsync, "fsync"},
      {SYS_fdatasync, "fdatasync"}, {SYS_rename, "rename"},        {SYS_renameat, "renameat"},
      {SYS_renameat2, "renameat2"}, {SYS_mkdir, "mkdir"},          {SYS_mkdirat, "mkdirat"},
      {SYS_unlink, "unlink"},       {SYS_unlinkat, "unlinkat"},    {SYS_flock, "flock"},
      {SYS_fcntl, "fcntl"},         {SYS_ftruncate, "ftruncate"},  {SYS_getdents64, "getdents64"},
      {SYS_fstat, "fstat"},         {SYS_newfstatat, "newfstatat"}};
  const auto at = kNames.find(call);
  return at == kNames.end() ? "call " + std::to_string(call) : at->second;
}

}  // namespace tracer
