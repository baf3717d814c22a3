// The password and the key stay where they are: the built program is watched from outside, at its
// system calls (strace), in its memory, at its limits and on its terminal.
#include <doctest/doctest.h>
#include <fcntl.h>
#include <openssl/bn.h>
#include <openssl/core_names.h>
#include <pty.h>
#include <sys/wait.h>
#include <termios.h>
#include <unistd.h>

#include <chrono>
#include <csignal>
#include <cstdio>
#include <functional>
#include <thread>

#include "base/digest.h"
#include "cli/world.h"
#include "seal/authority.h"

using namespace ohmleaf;
using namespace ohmleaf::test;

namespace {

struct Secrets : World {
  std::string password = authority::kPassword;
  std::string number;  ///< the private one, as bytes

  Secrets() {
    const auto root_paper = authority::issue(authority::root_paper());
    const auto one = authority::issue({}, &root_paper);
    spit(path("key.p12"), authority::pkcs12(one, &root_paper));
    fs::permissions(path("key.p12"), fs::perms::owner_read | fs::perms::owner_write);
    spit(path("password"), password + "\n");
    BIGNUM* secret = nullptr;
    REQUIRE(EVP_PKEY_get_bn_param(one.key.get(), OSSL_PKEY_PARAM_PRIV_KEY, &secret) == 1);
    number.resize(32);
    BN_bn2binpad(secret, reinterpret_cast<unsigned char*>(number.data()), 32);
    BN_clear_free(secret);
  }
  std::string program() const { return (program_folder() / "ohmleaf").string(); }
  std::vector<std::string> command() const {
    return {program(), "issue", path("sewing-workshop"), "--sign", path("key.p12")};
  }
  /// What must be found nowhere: the words and the number, as bytes, turned round, and in hex.
  std::vector<std::string> secrets() const {
    return {password, number, std::string(number.rbegin(), number.rend()), to_hex(number),
            to_hex(password)};
  }
};

std::string escaped(const std::string& bytes) {
  std::string out;
  for (const char c : bytes) {
    char four[5];
    std::snprintf(four, sizeof four, "\\x%02x",
                  static_cast<unsigned>(static_cast<unsigned char>(c)));
    out += four;
  }
  return out;
}

bool wait_for(const std::function<bool()>& done) {
  for (int i = 0; i < 1500; ++i) {
    if (done()) return true;
    std::this_thread::sleep_for(std::chrono::milliseconds(20));
  }
  return false;
}

/// Starts the command with these descriptors as 1 and 3.
pid_t start(const std::vector<std::string>& words, int out, int three) {
  std::vector<char*> args;
  for (const std::string& w : words) args.push_back(const_cast<char*>(w.c_str()));
  args.push_back(nullptr);
  const pid_t child = ::fork();
  if (child != 0) return child;
  if (out >= 0) ::dup2(out, 1);
  if (three >= 0) ::dup2(three, 3);
  ::execv(args[0], args.data());
  ::_exit(127);
}

/// Whether the bytes stand anywhere in the memory that a process may write to.
bool in_memory(pid_t process, const std::string& bytes) {
  const int memory = ::open(("/proc/" + std::to_string(process) + "/mem").c_str(), O_RDONLY);
  std::istringstream maps(slurp("/proc/" + std::to_string(process) + "/maps"));
  bool found = false;
  for (std::string line; std::getline(maps, line);) {
    unsigned long from = 0, to = 0;
    char mode[5] = "";
    if (std::sscanf(line.c_str(), "%lx-%lx %4s", &from, &to, mode) != 3 || mode[1] != 'w') continue;
    if (to - from > (1ul << 28)) continue;  // what a sanitizer keeps for itself
    std::string part(to - from, '\0');
    const ssize_t n = ::pread(memory, part.data(), part.size(), static_cast<off_t>(from));
    if (n > 0)
      found = found || part.substr(0, static_cast<std::size_t>(n)).find(bytes) != std::string::npos;
  }
  ::close(memory);
  return found;
}

}  // namespace

TEST_CASE("password and key are in no system call, no file, no message, no argument") {
  Secrets w;
  std::string line = "cd '" + w.root.string() + "' && exec strace -f -v -xx -s 400000 -o calls.log";
  for (const std::string& word : w.command()) line += " '" + word + "'";
  const std::string said = tool(line + " --password-fd 3 --copy copy.pdf 3<password 2>&1");
  REQUIRE(said.find("Issued HL-0001") != std::string::npos);
  const std::string calls = slurp(w.path("calls.log"));
  if (calls.find(escaped("Issued HL-0001")) == std::string::npos) {
    MESSAGE("nobody but root can watch a guarded process: its system calls are not looked at");
    CHECK(::geteuid() != 0);
  }
  CHECK(calls.find(escaped("--password-fd")) != std::string::npos);  // arguments are seen
  tool("cd '" + w.root.string() + "' && qpdf --qdf copy.pdf unpacked.pdf");
  fs::remove(w.path("password"));
  fs::remove(w.path("key.p12"));
  for (const std::string& secret : w.secrets()) {
    CHECK(said.find(secret) == std::string::npos);
    CHECK(calls.find(escaped(secret)) == std::string::npos);
    for (const std::string& file : w.files()) CHECK(file.find(secret) == std::string::npos);
  }
}

TEST_CASE("while it waits for a password it is guarded; when it is done the key is gone") {
  if (::geteuid() != 0) return;  // nobody else can look into it, which is the point
  Secrets w;
  int out[2], three[2];
  REQUIRE(::pipe(out) == 0);
  REQUIRE(::pipe(three) == 0);
  ::fcntl(three[1], F_SETFD, FD_CLOEXEC);
  // Standard output is full: the program does all its work and waits to speak of it.
  ::fcntl(out[1], F_SETFL, O_NONBLOCK);
  const std::string filling(4096, '.');
  while (::write(out[1], filling.data(), filling.size()) > 0) {
  }
  ::fcntl(out[1], F_SETFL, 0);
  auto command = w.command();
  command.insert(command.end(), {"--password-fd", "3"});
  const pid_t child = start(command, out[1], three[0]);
  const std::string proc = "/proc/" + std::to_string(child);
  CHECK(wait_for([&] {
    const std::string limits = slurp(proc + "/limits");
    return limits.find("Max core file size        0                    0 ") != std::string::npos;
  }));
  CHECK_FALSE(fs::exists(w.path("archive")));
  REQUIRE(::write(three[1], (w.password + "\n").data(), w.password.size() + 1) > 0);
  CHECK(wait_for([&] {
    return slurp(proc + "/syscall").starts_with("1 0x1 ") &&  // write, to standard output
           fs::exists(w.path("archive") + "/hl-0001");
  }));
  CHECK(in_memory(child, "Issued HL-0001"));  // the control: what is there is found
  const auto secrets = w.secrets();
  for (std::size_t i = 0; i < secrets.size(); ++i) {
    CAPTURE(i);
    CHECK_FALSE(in_memory(child, secrets[i]));
  }
  const std::string seen = slurp(proc + "/cmdline") + slurp(proc + "/environ");
  CHECK(seen.find(w.password) == std::string::npos);
  ::kill(child, SIGKILL);
  ::waitpid(child, nullptr, 0);
  for (const int fd : {out[0], out[1], three[0], three[1]}) ::close(fd);
}

TEST_CASE("the terminal asks without echo, and has its echo back whatever happens") {
  for (const bool interrupted : {false, true}) {
    CAPTURE(interrupted);
    Secrets w;
    int master = -1;
    const pid_t child = ::forkpty(&master, nullptr, nullptr, nullptr);
    if (child == 0) {
      std::vector<char*> args;
      auto words = w.command();
      for (std::string& word : words) args.push_back(word.data());
      args.push_back(nullptr);
      ::execv(args[0], args.data());
      ::_exit(127);
    }
    const auto echo = [&] {
      termios modes{};
      ::tcgetattr(master, &modes);
      return (modes.c_lflag & ECHO) != 0;
    };
    std::string seen;
    const auto read_until = [&](const std::string& word) {
      char c = 0;
      while (seen.find(word) == std::string::npos && ::read(master, &c, 1) == 1) seen += c;
      return seen.find(word) != std::string::npos;
    };
    REQUIRE(read_until("Password for "));
    REQUIRE(read_until(": "));
    CHECK_FALSE(echo());
    const std::string typed = interrupted ? "half of i\x03" : w.password + "\n";
    REQUIRE(::write(master, typed.data(), typed.size()) > 0);
    read_until("never said");
    int status = 0;
    ::waitpid(child, &status, 0);
    CHECK(seen.find(w.password) == std::string::npos);
    CHECK(seen.find("half") == std::string::npos);
    if (interrupted) {
      const bool stopped = (WIFSIGNALED(status) && WTERMSIG(status) == SIGINT) ||
                           (WIFEXITED(status) && WEXITSTATUS(status) == 130);
      CHECK(stopped);
      CHECK_FALSE(fs::exists(w.path("archive")));
    } else {
      CHECK(WIFEXITED(status));
      CHECK(WEXITSTATUS(status) == 0);
      CHECK(seen.find("Issued HL-0001") != std::string::npos);
    }
    ::close(master);
  }
}
