#include "tests/bench/measure.h"

#include <fcntl.h>
#include <spawn.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <stdexcept>

extern char** environ;

namespace saggar::bench {

double peak_mib() {
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    return static_cast<double>(usage.ru_maxrss) / 1024;
}

namespace {

double processor_seconds_of(const rusage& usage) {
    const auto seconds = [](const timeval& t) {
        return static_cast<double>(t.tv_sec) + static_cast<double>(t.tv_usec) / 1e6;
    };
    return seconds(usage.ru_utime) + seconds(usage.ru_stime);
}

}  // namespace

double processor_seconds() {
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    return processor_seconds_of(usage);
}

ProgramRun run_program(const std::vector<std::string>& words, bool keep_output) {
    int ends[2] = {-1, -1};
    if (pipe2(ends, O_CLOEXEC) != 0) throw std::runtime_error("no pipe");
    posix_spawn_file_actions_t actions;
    posix_spawn_file_actions_init(&actions);
    if (keep_output) {
        posix_spawn_file_actions_adddup2(&actions, ends[1], 1);
    } else {
        posix_spawn_file_actions_addopen(&actions, 1, "/dev/null", O_WRONLY, 0);
    }
    std::vector<char*> arguments;
    for (const std::string& word : words) arguments.push_back(const_cast<char*>(word.c_str()));
    arguments.push_back(nullptr);
    ProgramRun run;
    const Stopwatch watch;
    pid_t child = 0;
    const int failed = posix_spawn(&child, arguments[0], &actions, nullptr, arguments.data(), environ);
    posix_spawn_file_actions_destroy(&actions);
    close(ends[1]);
    if (failed) {
        close(ends[0]);
        throw std::runtime_error("cannot run " + words[0]);
    }
    std::array<char, 65536> buffer;
    for (ssize_t got; (got = read(ends[0], buffer.data(), buffer.size())) > 0;)
        run.output.append(buffer.data(), static_cast<std::size_t>(got));
    close(ends[0]);
    int status = 0;
    rusage usage{};
    wait4(child, &status, 0, &usage);
    run.seconds = watch.seconds();
    run.processor_seconds = processor_seconds_of(usage);
    run.status = WIFEXITED(status) ? WEXITSTATUS(status) : 128;
    return run;
}

}  // namespace saggar::bench
