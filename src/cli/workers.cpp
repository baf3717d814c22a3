#include "cli/workers.h"

#include <fcntl.h>
#include <poll.h>
#include <sched.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <csignal>
#include <cstring>
#include <system_error>

namespace ohmleaf::cli {
namespace {

constexpr std::size_t kAsked = 2;  // places a worker holds, so that it never waits for us
constexpr std::size_t kChunk = 1u << 16;

bool write_whole(int fd, const char* bytes, std::size_t size) {
  while (size > 0) {
    const ssize_t n = ::write(fd, bytes, size);
    if (n < 0 && errno == EINTR) continue;
    if (n <= 0) return false;
    bytes += n;
    size -= static_cast<std::size_t>(n);
  }
  return true;
}

bool read_whole(int fd, char* bytes, std::size_t size) {
  while (size > 0) {
    const ssize_t n = ::read(fd, bytes, size);
    if (n < 0 && errno == EINTR) continue;
    if (n <= 0) return false;
    bytes += n;
    size -= static_cast<std::size_t>(n);
  }
  return true;
}

void put_number(std::string& out, std::uint64_t n) {
  out.append(reinterpret_cast<const char*>(&n), sizeof n);
}

/// The length of what follows, the code, then each text with its length.
std::string packed(const Outcome& o) {
  std::string body;
  put_number(body, static_cast<std::uint64_t>(o.code));
  for (const std::string* text : {&o.out, &o.err, &o.path, &o.bytes, &o.done}) {
    put_number(body, text->size());
    body += *text;
  }
  std::string whole;
  put_number(whole, body.size());
  return whole + body;
}

bool take_number(std::string_view& in, std::uint64_t& n) {
  if (in.size() < sizeof n) return false;
  std::memcpy(&n, in.data(), sizeof n);
  in.remove_prefix(sizeof n);
  return true;
}

Outcome unpacked(std::string_view body) {
  Outcome o;
  std::uint64_t n = 0;
  if (take_number(body, n)) o.code = static_cast<int>(n);
  for (std::string* text : {&o.out, &o.err, &o.path, &o.bytes, &o.done}) {
    if (!take_number(body, n) || body.size() < n) break;
    text->assign(body.substr(0, n));
    body.remove_prefix(n);
  }
  return o;
}

std::string how_it_ended(int status) {
  if (WIFSIGNALED(status)) return "signal " + std::to_string(WTERMSIG(status));
  return "code " + std::to_string(WIFEXITED(status) ? WEXITSTATUS(status) : status);
}

/// A worker that died must not take us with it when it is asked.
class NoPipeSignal {
 public:
  NoPipeSignal() { ::sigaction(SIGPIPE, &ignore_, &before_); }
  ~NoPipeSignal() { ::sigaction(SIGPIPE, &before_, nullptr); }
  NoPipeSignal(const NoPipeSignal&) = delete;
  NoPipeSignal& operator=(const NoPipeSignal&) = delete;

 private:
  static struct sigaction ignoring() {
    struct sigaction s {};
    s.sa_handler = SIG_IGN;
    return s;
  }
  struct sigaction ignore_ = ignoring(), before_{};
};

void close_both(const int* ends) {
  ::close(ends[0]);
  ::close(ends[1]);
}

}  // namespace

std::size_t processors() {
  cpu_set_t set;
  CPU_ZERO(&set);
  if (::sched_getaffinity(0, sizeof set, &set) != 0) return 1;
  return static_cast<std::size_t>(std::max(1, CPU_COUNT(&set)));
}

Workers::Workers(std::size_t count, Work work) : work_(std::move(work)), workers_(count) {}

Workers::~Workers() {
  for (Worker& w : workers_) stop(w);
}

/// Until nobody asks any more.
void Workers::serve(int asked, int answer) const {
  std::uint64_t place = 0;
  while (read_whole(asked, reinterpret_cast<char*>(&place), sizeof place)) {
    const std::string answer_bytes = packed(work_(place));
    if (!write_whole(answer, answer_bytes.data(), answer_bytes.size())) break;
  }
  ::_exit(0);  // what the parent would do at its end is not done twice
}

bool Workers::start(Worker& w) {
  int to[2], from[2];
  if (::pipe2(to, O_CLOEXEC) != 0) return false;
  if (::pipe2(from, O_CLOEXEC) != 0) {
    close_both(to);
    return false;
  }
  w.pid = ::fork();
  if (w.pid == 0) {
    for (const Worker& other : workers_) {  // else a worker's pipe would outlive our end of it
      if (other.ask >= 0) ::close(other.ask);
      if (other.answer >= 0) ::close(other.answer);
    }
    ::close(to[1]);
    ::close(from[0]);
    serve(to[0], from[1]);
  }
  ::close(to[0]);
  ::close(from[1]);
  if (w.pid < 0) {
    ::close(to[1]);
    ::close(from[0]);
    return false;
  }
  w.ask = to[1];
  w.answer = from[0];
  w.buffer.clear();
  return true;
}

void Workers::stop(Worker& w) {
  if (w.pid < 0) return;
  ::close(w.ask);
  ::close(w.answer);
  int status = 0;
  while (::waitpid(w.pid, &status, 0) < 0 && errno == EINTR) {
  }
  w = Worker{};
}

bool Workers::ask(Worker& w, std::size_t place) {
  const std::uint64_t n = place;
  w.asked.push_back(place);
  return write_whole(w.ask, reinterpret_cast<const char*>(&n), sizeof n);
}

void Workers::give_out(std::size_t total, bool room) {
  const std::size_t last = room ? total : 0;
  for (std::size_t round = 0; round < kAsked; ++round)
    for (Worker& w : workers_) {
      if (w.asked.size() > round) continue;
      const bool returned = !again_.empty();
      if (!returned && next_ >= last) continue;
      if (w.pid < 0 && !start(w)) continue;
      const std::size_t place = returned ? again_.front() : next_++;
      if (returned) again_.pop_front();
      ask(w, place);  // where it fails the worker is dead, and its pipe says so next
    }
}

/// False at the end of the pipe: the worker is dead.
bool Workers::read_from(Worker& w, const Take& take) {
  const std::size_t before = w.buffer.size();
  w.buffer.resize(before + kChunk);
  const ssize_t n = ::read(w.answer, w.buffer.data() + before, kChunk);
  w.buffer.resize(before + (n > 0 ? static_cast<std::size_t>(n) : 0));
  if (n < 0) return errno == EINTR || errno == EAGAIN;
  if (n == 0) return false;
  std::string_view rest = w.buffer;
  std::uint64_t size = 0;
  while (take_number(rest, size) && rest.size() >= size && !w.asked.empty()) {
    const std::size_t place = w.asked.front();
    w.asked.pop_front();
    take(place, unpacked(rest.substr(0, size)), {});
    rest.remove_prefix(size);
    w.buffer.erase(0, w.buffer.size() - rest.size());
    rest = w.buffer;
  }
  return true;
}

void Workers::bury(Worker& w, const Take& take) {
  int status = 0;
  ::close(w.ask);
  ::close(w.answer);
  while (::waitpid(w.pid, &status, 0) < 0 && errno == EINTR) {
  }
  const std::deque<std::size_t> asked = std::move(w.asked);
  w = Worker{};
  if (asked.empty()) return;
  again_.insert(again_.end(), asked.begin() + 1, asked.end());
  take(asked.front(), std::nullopt, how_it_ended(status));
}

void Workers::run(std::size_t total, const std::function<bool()>& room, const Take& take_one) {
  const NoPipeSignal guard;
  next_ = 0;
  std::size_t taken = 0;
  const Take take = [&](std::size_t place, std::optional<Outcome> outcome, const std::string& how) {
    ++taken;
    take_one(place, std::move(outcome), how);
  };
  while (taken < total) {
    give_out(total, room());
    std::vector<pollfd> polled;
    std::vector<Worker*> who;
    for (Worker& w : workers_) {
      if (w.pid < 0) continue;
      polled.push_back({w.answer, POLLIN, 0});
      who.push_back(&w);
    }
    if (polled.empty()) {  // no process can be made: the work is done here
      const std::size_t place = again_.empty() ? next_++ : again_.front();
      if (!again_.empty()) again_.pop_front();
      take(place, work_(place), {});
      continue;
    }
    if (::poll(polled.data(), polled.size(), -1) < 0) continue;
    for (std::size_t i = 0; i < polled.size(); ++i)
      if (polled[i].revents != 0 && !read_from(*who[i], take)) bury(*who[i], take);
  }
}

}  // namespace ohmleaf::cli
