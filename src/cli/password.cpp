#include "cli/password.h"

#include <fcntl.h>
#include <poll.h>
#include <sys/stat.h>
#include <termios.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <charconv>
#include <csignal>

#include "base/files.h"
#include "base/text.h"

namespace ohmleaf::cli {
namespace {

constexpr const char* kHow =
    "Leave it out to be asked for it, or give a file descriptor to read it from: --password-fd 3 "
    "3< FILE.";

volatile std::sig_atomic_t caught = 0;
extern "C" {
static void note_signal(int signal) {
  caught = signal;
}
}

/// The terminal without echo, which comes back whatever happens. Signals come through only while
/// `wait` waits: one that came just before the reading would otherwise go unheard.
class QuietTerminal {
 public:
  explicit QuietTerminal(int fd) : fd_(fd) {
    caught = 0;
    sigset_t held;
    ::sigemptyset(&held);
    for (const int signal : kSignals) ::sigaddset(&held, signal);
    ::sigprocmask(SIG_BLOCK, &held, &mask_);
    for (std::size_t i = 0; i < kSignals.size(); ++i) {
      struct sigaction act {};
      act.sa_handler = note_signal;
      ::sigemptyset(&act.sa_mask);
      ::sigaction(kSignals[i], &act, &before_[i]);
    }
    known_ = ::tcgetattr(fd_, &modes_) == 0;
    if (!known_) return;
    termios quiet = modes_;
    quiet.c_lflag &= ~static_cast<tcflag_t>(ECHO | ECHOE | ECHOK | ECHONL);
    quiet.c_lflag |= ICANON | ISIG;
    known_ = ::tcsetattr(fd_, TCSAFLUSH, &quiet) == 0;
  }
  ~QuietTerminal() {
    if (known_) ::tcsetattr(fd_, TCSAFLUSH, &modes_);
    for (std::size_t i = 0; i < kSignals.size(); ++i)
      ::sigaction(kSignals[i], &before_[i], nullptr);
    ::sigprocmask(SIG_SETMASK, &mask_, nullptr);
  }
  /// False where a signal came first.
  bool wait() const {
    pollfd ready{fd_, POLLIN, 0};
    while (caught == 0)
      if (::ppoll(&ready, 1, nullptr, &mask_) >= 0 || errno != EINTR) return true;
    return false;
  }
  QuietTerminal(const QuietTerminal&) = delete;
  QuietTerminal& operator=(const QuietTerminal&) = delete;
  bool quiet() const { return known_; }

 private:
  static constexpr std::array kSignals{SIGINT, SIGTERM, SIGQUIT, SIGHUP, SIGTSTP};
  int fd_;
  bool known_ = false;
  termios modes_{};
  sigset_t mask_{};
  std::array<struct sigaction, kSignals.size()> before_{};
};

enum class Line { read, interrupted, too_long, failed };

/// One line, a byte at a time: no buffer keeps it. `terminal`: where it is read from one.
Line read_line(int fd, seal::Secret& into, const QuietTerminal* terminal = nullptr) {
  bool fits = true;
  for (;;) {
    if (terminal != nullptr && !terminal->wait()) return Line::interrupted;
    char c = 0;
    const ssize_t n = ::read(fd, &c, 1);
    if (n < 0 && errno == EINTR) continue;
    if (n < 0) return Line::failed;
    if (n == 0 || c == '\n') break;
    fits = into.push(c) && fits;
  }
  if (into.view().ends_with('\r')) into.pop();
  return fits ? Line::read : Line::too_long;
}

void print(int fd, std::string_view text) {
  while (!text.empty()) {
    const ssize_t n = ::write(fd, text.data(), text.size());
    if (n < 0 && errno == EINTR) continue;
    if (n <= 0) return;
    text.remove_prefix(static_cast<std::size_t>(n));
  }
}

/// Asks once. After a stop (Ctrl-Z) and a return it asks again.
Line ask(int fd, const std::string& prompt, seal::Secret& into) {
  for (;;) {
    into.clear();
    Line line = Line::failed;
    int signal = 0;
    {
      const QuietTerminal terminal(fd);
      if (!terminal.quiet()) return Line::failed;
      print(fd, prompt);
      line = read_line(fd, into, &terminal);
      print(fd, "\n");
      signal = caught;
    }
    if (signal == 0) return line;
    into.clear();
    ::raise(signal);  // what it would have done, now that the echo is back
    if (signal != SIGTSTP) return Line::interrupted;
  }
}

std::nullopt_t report(Line line, const std::string& from, Diagnostics& out) {
  if (line == Line::too_long)
    out.error("password", {}, "the password is longer than 1023 bytes, or holds a zero byte");
  else if (line == Line::interrupted)
    out.error("password", {}, "interrupted while it asked for the password",
              {"Nothing was written."});
  else
    out.error("password", {}, "no password can be read from " + from, {kHow});
  return std::nullopt;
}

std::optional<seal::Secret> from_descriptor(const std::string& written, Diagnostics& out) {
  int fd = -1;
  const auto [end, error] = std::from_chars(written.data(), written.data() + written.size(), fd);
  if (error != std::errc() || end != written.data() + written.size() || fd < 0) {
    out.error("password", {}, "--password-fd takes the number of an open file descriptor",
              {"Such as: ohmleaf issue JOB --sign my-key.p12 --password-fd 3 3< FILE."});
    return std::nullopt;
  }
  seal::Secret secret;
  const Line line = read_line(fd, secret);
  if (line == Line::read) return secret;
  return report(line, "file descriptor " + written, out);
}

std::optional<seal::Secret> from_terminal(const std::string& what, bool twice, Diagnostics& out) {
  const int fd = ::open("/dev/tty", O_RDWR | O_CLOEXEC | O_NOCTTY);
  if (fd < 0) {
    out.error("password", {}, "there is no terminal to ask for the password on", {kHow});
    return std::nullopt;
  }
  seal::Secret first, second;
  Line line = ask(fd, "Password for " + visible(what) + ": ", first);
  if (line == Line::read && twice) line = ask(fd, "The same again: ", second);
  ::close(fd);
  if (line != Line::read) return report(line, "the terminal", out);
  if (twice && !(first == second)) {
    out.error("password", {}, "the two passwords are not the same", {"Nothing was written."});
    return std::nullopt;
  }
  return first;
}

void warn_of_readers(const std::string& file, Diagnostics& out) {
  struct stat info {};
  if (::stat(file.c_str(), &info) != 0 || (info.st_mode & (S_IRWXG | S_IRWXO)) == 0) return;
  out.warning("key-readable", {}, visible(file) + " can be read by others who use this computer",
              {"chmod 600 " + visible(file) + " keeps it to yourself."});
}

}  // namespace

void add_password_fd(Command& command, std::string& into) {
  command
      .add_option(
          "--password-fd", into,
          "Read the key's password from this file descriptor (default: asks on the terminal)")
      ->type_name("N");
}

void add_signing(Command& command, SigningOptions& o) {
  command
      .add_option("--sign", o.key,
                  "Sign the PDF electronically with the key in this PKCS#12 file (.p12, .pfx)")
      ->type_name("FILE");
  add_password_fd(command, o.password_fd);
}

std::optional<int> refuse_password_argument(const std::vector<std::string>& args, Environment& e) {
  for (const std::string& arg : args) {
    if (arg == "--") break;
    const std::string word = ascii_lower(arg.substr(0, arg.find('=')));
    const bool meant = word.starts_with("--pass") || word == "--pwd" || word == "--pin";
    if (!meant || word == "--password-fd") continue;
    e.err(
        "ohmleaf: error: a password is not taken from the command line, where everybody on this "
        "computer can read it\n" +
        wrapped(kHow, "  → ", "    ", text_width(e)) +
        wrapped("If it was the real one: it stands in your shell's history now. Change it.", "  → ",
                "    ", text_width(e)));
    return kInput;
  }
  return std::nullopt;
}

std::optional<seal::Secret> read_password(const std::string& descriptor, const std::string& what,
                                          bool twice, Diagnostics& out) {
  auto secret =
      descriptor.empty() ? from_terminal(what, twice, out) : from_descriptor(descriptor, out);
  if (secret && !secret->locked())
    out.warning("unlocked-memory", {},
                "the system does not lock memory for this program: the password may reach the swap "
                "space");
  return secret;
}

std::optional<seal::Key> open_key(const SigningOptions& o, Instant now, Diagnostics& out) {
  const auto bytes = read_file(o.key, seal::kMaxKeyFile, out);
  if (!bytes) return std::nullopt;
  warn_of_readers(o.key, out);
  if (!seal::guard_process(out)) return std::nullopt;
  const auto password = read_password(o.password_fd, o.key, false, out);
  if (!password) return std::nullopt;
  return seal::Key::open(*bytes, o.key, *password, now, out);
}

}  // namespace ohmleaf::cli
