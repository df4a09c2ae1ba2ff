#include "viz/render/child.h"

#include <sys/stat.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <chrono>
#include <filesystem>
#include <fstream>

#include "../sample.h"
#include "kg/model/fault.h"
#include "viz/layout.h"
#include "viz/render/limits.h"

using namespace saggar;
using namespace saggar::viz;
using Catch::Matchers::Contains;

namespace {

// A program that does what `body` says, gone at the end of the test.
class Script {
public:
    explicit Script(const std::string& body) {
        path_ = std::filesystem::temp_directory_path() /
                ("saggar-child-" + std::to_string(getpid()) + "-" + std::to_string(++count_));
        std::ofstream(path_) << "#!/bin/sh\n" << body << "\n";
        chmod(path_.c_str(), 0700);
    }
    ~Script() { std::filesystem::remove(path_); }
    std::string path() const { return path_; }

private:
    static inline int count_ = 0;
    std::filesystem::path path_;
};

std::string run(const std::string& body, std::string_view input = {}, const ChildLimits& limits = {}) {
    const Script script(body);
    return run_child(script.path(), {}, input, "laying out the diagram", limits);
}

}  // namespace

TEST_CASE("bytes go in and come out, also many") {
    CHECK(run("cat", "hello") == "hello");
    CHECK(run("cat").empty());
    const std::string much(3 << 20, 'x');
    CHECK(run("cat", much) == much);
    CHECK(run("exec 0<&-; echo done", much) == "done\n");  // a child that does not read
}

TEST_CASE("a child that crashes, refuses or talks too much is a limit fault with its last words") {
    CHECK_THROWS_WITH(run("kill -SEGV $$"), Contains("crashed (signal 11)"));
    CHECK_THROWS_WITH(run("echo first >&2; echo 'no such thing' >&2; exit 3"),
                      Contains("failed (exit status 3): no such thing"));
    CHECK_THROWS_AS(run("kill -ABRT $$"), LimitFault);
    ChildLimits small;
    small.output_bytes = 1000;
    CHECK_THROWS_WITH(run("cat /dev/zero", {}, small), Contains("more than 1000 bytes"));
}

TEST_CASE("a child that hangs is stopped in time") {
    ChildLimits limits;
    limits.wall_seconds = 0.3;
    const auto begin = std::chrono::steady_clock::now();
    CHECK_THROWS_WITH(run("exec sleep 60", {}, limits), Contains("took more than 0.3 seconds"));
    CHECK_THROWS_WITH(run("exec >&- 2>&-; exec sleep 60", {}, limits), Contains("took more than 0.3 seconds"));
    CHECK(std::chrono::steady_clock::now() - begin < std::chrono::seconds(5));
}

TEST_CASE("a program that is not there is named") {
    CHECK_THROWS_WITH(run_child("/nowhere/saggar-render", {}, {}, "laying out", {}),
                      Contains("/nowhere/saggar-render"));
    CHECK_THROWS_WITH(program_beside("saggar-nothing"), Contains("saggar-nothing is missing beside"));
}

TEST_CASE("the layout program refuses what is no graph of ours") {
    const auto program = program_beside("saggar-render");
    CHECK_THROWS_AS(run_child(program, {}, "this is not DOT", "laying out", {}), LimitFault);
    CHECK_THROWS_WITH(run_child(program, {}, "digraph { a -> b }", "laying out", {}), Contains("not ours"));
    std::string many = "digraph {";
    for (std::size_t i = 0; i <= kMostNodes; ++i) many += "n" + std::to_string(i) + ";";
    CHECK_THROWS_WITH(run_child(program, {}, many + "}", "laying out", {}), Contains("too large"));
}

TEST_CASE("a diagram of more than four hundred boxes is refused with advice") {
    try {
        lay_out(sample::large(kMostNodes + 1));
        FAIL("laid out");
    } catch (const LimitFault& fault) {
        CHECK_THAT(fault.what(), Contains("401 boxes"));
        CHECK_THAT(fault.next_step(), Contains("depth"));
    }
}

TEST_CASE("a failing layout program leaves the caller whole") {
    const Script script("kill -SEGV $$");
    CHECK_THROWS_AS(lay_out(sample::chain(), {}, script.path()), LimitFault);
    CHECK(lay_out(sample::chain()).positions.nodes.size() == 4);
}

// Each way of failing says what happened and what to do: hang, computing time, memory, crash.
TEST_CASE("whatever ends the layout program, the message says what to do") {
    const auto render = program_beside("saggar-render");
    const std::pair<std::string, std::string> ways[] = {
        {"exec sleep 60", "took more than 0.5 seconds"},
        {"kill -XCPU $$", "used up its computing time or memory"},
        {"kill -KILL $$", "used up its computing time or memory"},
        {"kill -SEGV $$", "crashed (signal 11)"},
        {"ulimit -v 4000; exec '" + render + "'", "laying out the diagram"},  // 4 MB: not even its libraries fit
        {"exit 3", "failed (exit status 3)"},
    };
    for (const auto& [body, words] : ways) {
        const Script script(body);
        ChildLimits limits;
        limits.wall_seconds = body == ways[0].first ? 0.5 : 20;
        INFO(body);
        try {
            lay_out(sample::chain(), limits, script.path());
            FAIL("laid out");
        } catch (const LimitFault& fault) {
            CHECK_THAT(fault.what(), Contains(words));
            CHECK_THAT(fault.next_step(), Contains("smaller") || Contains("fewer"));
        }
    }
    CHECK(ChildLimits{}.wall_seconds <= 60);
}
