#include "viz/render/child.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <poll.h>
#include <signal.h>
#include <spawn.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <chrono>
#include <climits>
#include <cstring>
#include <filesystem>
#include <optional>
#include <thread>

#include "kg/model/fault.h"

extern char** environ;

namespace saggar::viz {

namespace {

using Clock = std::chrono::steady_clock;

constexpr const char* kNextStep = "draw less at once: a smaller depth, fewer kinds, or one chain";
constexpr std::size_t kMessageBytes = 16384;

class Descriptor {
public:
    explicit Descriptor(int number = -1) : number_(number) {}
    ~Descriptor() { close(); }
    Descriptor(const Descriptor&) = delete;
    Descriptor& operator=(const Descriptor&) = delete;
    int get() const { return number_; }
    void reset(int number) {
        close();
        number_ = number;
    }
    void close() {
        if (number_ >= 0) ::close(number_);
        number_ = -1;
    }

private:
    int number_;
};

// Both ends of a local socket; used for input because send() can be told not to raise SIGPIPE.
struct Channel {
    Descriptor ours, theirs;
    Channel() {
        int ends[2];
        if (socketpair(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0, ends) != 0) {
            throw Fault(fmt::format("no channel to the drawing program: {}", std::strerror(errno)),
                        "close other programs and try again");
        }
        ours.reset(ends[0]);
        theirs.reset(ends[1]);
        fcntl(ends[0], F_SETFL, O_NONBLOCK);
    }
};

class Spawned {
public:
    Spawned(const std::string& program, const std::vector<std::string>& arguments, int in, int out, int err) {
        posix_spawn_file_actions_t actions;
        posix_spawn_file_actions_init(&actions);
        posix_spawn_file_actions_adddup2(&actions, in, 0);
        posix_spawn_file_actions_adddup2(&actions, out, 1);
        posix_spawn_file_actions_adddup2(&actions, err, 2);
        posix_spawnattr_t attributes;
        posix_spawnattr_init(&attributes);
        sigset_t none;
        sigemptyset(&none);
        posix_spawnattr_setsigmask(&attributes, &none);
        posix_spawnattr_setflags(&attributes, POSIX_SPAWN_SETSIGMASK);
        std::vector<char*> argv{const_cast<char*>(program.c_str())};
        for (const auto& argument : arguments) argv.push_back(const_cast<char*>(argument.c_str()));
        argv.push_back(nullptr);
        const int failed = posix_spawn(&pid_, program.c_str(), &actions, &attributes, argv.data(), environ);
        posix_spawn_file_actions_destroy(&actions);
        posix_spawnattr_destroy(&attributes);
        if (failed != 0) {
            throw Fault(fmt::format("{} could not be started: {}", program, std::strerror(failed)),
                        "install saggar again: the program belongs beside it");
        }
    }
    ~Spawned() {
        if (!ended_) stop();
    }
    Spawned(const Spawned&) = delete;
    Spawned& operator=(const Spawned&) = delete;

    void stop() {
        kill(pid_, SIGKILL);
        waitpid(pid_, &status_, 0);
        ended_ = true;
    }

    // False where the program has not ended by `deadline`.
    bool wait_until(Clock::time_point deadline) {
        auto pause = std::chrono::microseconds(50);
        while (!ended_) {
            if (waitpid(pid_, &status_, WNOHANG) == pid_) {
                ended_ = true;
            } else if (Clock::now() >= deadline) {
                return false;
            } else {
                std::this_thread::sleep_for(pause);
                if (pause < std::chrono::milliseconds(5)) pause *= 2;
            }
        }
        return true;
    }
    int status() const { return status_; }

private:
    pid_t pid_ = -1;
    int status_ = 0;
    bool ended_ = false;
};

// Reads what is there; false at the end of the stream.
bool drain(int descriptor, std::string& into, std::size_t keep) {
    std::array<char, 65536> buffer;
    for (;;) {
        const ssize_t n = recv(descriptor, buffer.data(), buffer.size(), 0);
        if (n == 0) return false;
        if (n < 0) return errno == EAGAIN || errno == EINTR;
        if (into.size() < keep) into.append(buffer.data(), std::min(static_cast<std::size_t>(n), keep - into.size()));
    }
}

std::string last_line(std::string text) {
    while (!text.empty() && text.back() == '\n') text.pop_back();
    return text.substr(text.find_last_of('\n') + 1);
}

struct Exchange {
    std::string output, messages;
    bool timed_out = false, too_much = false;
};

Exchange exchange(Channel& in, Channel& out, Channel& err, std::string_view input, Clock::time_point deadline,
                  std::size_t most) {
    Exchange result;
    bool out_open = true, err_open = true;
    while (out_open || err_open) {
        const auto left = std::chrono::duration_cast<std::chrono::milliseconds>(deadline - Clock::now()).count();
        if (left <= 0) {
            result.timed_out = true;
            return result;
        }
        pollfd waits[3] = {{out_open ? out.ours.get() : -1, POLLIN, 0},
                           {err_open ? err.ours.get() : -1, POLLIN, 0},
                           {in.ours.get(), POLLOUT, 0}};
        if (poll(waits, 3, static_cast<int>(std::min<long long>(left, INT_MAX))) < 0 && errno != EINTR) break;
        if (in.ours.get() >= 0 && waits[2].revents != 0) {
            const ssize_t n = send(in.ours.get(), input.data(), input.size(), MSG_NOSIGNAL);
            if (n > 0) input.remove_prefix(static_cast<std::size_t>(n));
            if (input.empty() || (n < 0 && errno != EAGAIN && errno != EINTR)) in.ours.close();
        }
        if (out_open && waits[0].revents != 0) out_open = drain(out.ours.get(), result.output, most + 1);
        if (err_open && waits[1].revents != 0) err_open = drain(err.ours.get(), result.messages, kMessageBytes);
        if (result.output.size() > most) {
            result.too_much = true;
            return result;
        }
    }
    return result;
}

[[noreturn]] void fail(std::string_view purpose, const std::string& what, const std::string& messages) {
    const auto line = last_line(messages);
    throw LimitFault(fmt::format("{} {}{}{}", purpose, what, line.empty() ? "" : ": ", line), kNextStep);
}

}  // namespace

std::string program_beside(std::string_view name) {
    std::error_code error;
    const auto self = std::filesystem::read_symlink("/proc/self/exe", error);
    const auto path = self.parent_path() / name;
    if (error || !std::filesystem::exists(path, error)) {
        throw Fault(fmt::format("{} is missing beside {}", name, self.string()),
                    "install saggar again: the program belongs beside it");
    }
    return path.string();
}

std::string run_child(const std::string& program, const std::vector<std::string>& arguments, std::string_view input,
                      std::string_view purpose, const ChildLimits& limits) {
    Channel in, out, err;
    Spawned child(program, arguments, in.theirs.get(), out.theirs.get(), err.theirs.get());
    in.theirs.close();
    out.theirs.close();
    err.theirs.close();
    const auto deadline =
        Clock::now() + std::chrono::duration_cast<Clock::duration>(std::chrono::duration<double>(limits.wall_seconds));
    Exchange result = exchange(in, out, err, input, deadline, limits.output_bytes);
    if (result.too_much) fail(purpose, fmt::format("gave more than {} bytes and was stopped", limits.output_bytes), {});
    if (result.timed_out || !child.wait_until(deadline)) {
        fail(purpose, fmt::format("took more than {:g} seconds and was stopped", limits.wall_seconds), {});
    }
    if (WIFSIGNALED(child.status())) {
        const int signal = WTERMSIG(child.status());
        if (signal == SIGXCPU || signal == SIGKILL)
            fail(purpose, "used up its computing time or memory and was stopped", result.messages);
        fail(purpose, fmt::format("crashed (signal {})", signal), result.messages);
    }
    if (WEXITSTATUS(child.status()) != 0)
        fail(purpose, fmt::format("failed (exit status {})", WEXITSTATUS(child.status())), result.messages);
    return std::move(result.output);
}

}  // namespace saggar::viz
