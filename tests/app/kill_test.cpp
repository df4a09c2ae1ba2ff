// A process killed at any moment leaves everything or nothing: 200 loads and notes are killed at random moments, and after
// each the graph is whole and holds whole files only.
#include <fcntl.h>
#include <signal.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <chrono>
#include <fstream>
#include <random>
#include <string>
#include <thread>
#include <vector>

#include "kg/store/check.h"
#include "kg/store/store.h"
#include "tests/kg/store/temporary_folder.h"

extern char** environ;

using namespace saggar;
using saggar::testing::TemporaryFolder;
namespace fs = std::filesystem;

namespace {

constexpr int rounds = 200;
constexpr int rounds_per_graph = 25;

struct KilledLoad {
    std::string source;  // every reading of the load is drawn from it
    std::size_t readings = 0;
};

pid_t start(std::vector<std::string> words) {
    words.insert(words.begin(), SAGGAR_BIN_DIR "/saggar");
    std::vector<char*> argv;
    for (std::string& word : words) argv.push_back(word.data());
    argv.push_back(nullptr);
    posix_spawn_file_actions_t actions;
    posix_spawn_file_actions_init(&actions);
    posix_spawn_file_actions_addopen(&actions, 1, "/dev/null", O_WRONLY, 0);
    posix_spawn_file_actions_addopen(&actions, 2, "/dev/null", O_WRONLY, 0);
    pid_t child = 0;
    REQUIRE(posix_spawn(&child, argv[0], &actions, nullptr, argv.data(), environ) == 0);
    posix_spawn_file_actions_destroy(&actions);
    return child;
}

// A claims table whose rows share one source. Above about 2,500 rows it is taken in as table files.
void write_claims(const fs::path& file, int round, std::size_t rows) {
    std::ofstream out(file);
    out << "subject,relation,object,source,at\n";
    for (std::size_t i = 0; i < rows; ++i)
        out << "piece:p-" << round << '-' << i << ",instance-of,item:i-" << i % 97 << ",source:s-" << round
            << ",row=" << i << '\n';
}

// What a round does to the graph: a note, a small load, or a load taken in as table files.
std::vector<std::string> command_of(int round, const fs::path& graph, const fs::path& folder, KilledLoad& load) {
    std::vector<std::string> words = {"--graph", graph.string()};
    if (round % 4 == 0) {
        words.insert(words.end(),
                     {"note", "piece:p-" + std::to_string(round), "instance-of", "item:i-1", "--source", load.source});
        return words;
    }
    load.readings = round % 4 == 1 ? 200 : 3000;
    const fs::path file = folder / "claims.csv";
    write_claims(file, round, load.readings);
    words.insert(words.end(), {"load", file.string()});
    return words;
}

// How long the command takes when nobody kills it, in microseconds.
long time_of(const std::vector<std::string>& words) {
    const auto begin = std::chrono::steady_clock::now();
    int status = 0;
    ::waitpid(start(words), &status, 0);
    REQUIRE(status == 0);
    return std::chrono::duration_cast<std::chrono::microseconds>(std::chrono::steady_clock::now() - begin).count();
}

// How long each manner takes on this machine when nobody kills it, in microseconds.
std::vector<long> usual_times(const fs::path& folder) {
    std::vector<long> times;
    Store::create(folder / "unkilled", {"", "", "tester", "2026-01-01T00:00:00Z"});
    for (int manner = 0; manner < 4; ++manner) {
        KilledLoad load{"source:unkilled-" + std::to_string(manner), 1};
        times.push_back(time_of(command_of(9000 + manner - 9000 % 4, folder / "unkilled", folder, load)));
    }
    return times;
}

// Runs the command and kills it after a random part of `longest` microseconds.
void start_and_kill(const std::vector<std::string>& words, long longest, std::mt19937& random) {
    const pid_t child = start(words);
    std::this_thread::sleep_for(std::chrono::microseconds(std::uniform_int_distribution<long>(0, longest)(random)));
    ::kill(child, SIGKILL);
    int status = 0;
    ::waitpid(child, &status, 0);
}

std::size_t readings_of(const Snapshot& snapshot, const std::string& source) {
    const auto id = snapshot.find(source);
    return id ? snapshot.evidence_from(*id).size() : 0;
}

}  // namespace

TEST_CASE("a load or a note killed at any moment leaves everything or nothing", "[kill]") {
    std::mt19937 random(20260101);
    TemporaryFolder folder;
    const std::vector<long> usual = usual_times(folder.path());
    int finished = 0;
    int nothing = 0;
    for (int round = 0; round < rounds; ++round) {
        const fs::path graph = folder.path() / ("graph-" + std::to_string(round / rounds_per_graph));
        if (round % rounds_per_graph == 0) Store::create(graph, {"", "", "tester", "2026-01-01T00:00:00Z"});
        KilledLoad load{"source:s-" + std::to_string(round), 1};
        start_and_kill(command_of(round, graph, folder.path(), load), usual[static_cast<std::size_t>(round % 4)] * 5 / 4, random);

        const Store store = Store::open(graph, Access::write);
        const CheckReport report = check(store);
        INFO("round " << round << (report.damage.empty() ? "" : ": " + report.damage.front()));
        REQUIRE(report.damage.empty());
        const auto snapshot = store.snapshot();
        const std::size_t readings = readings_of(*snapshot, load.source);
        REQUIRE((readings == 0 || readings == load.readings));
        ++(readings == 0 ? nothing : finished);
    }
    // The moments are spread so that both happen; else this would have tested nothing.
    CHECK(finished > 10);
    CHECK(nothing > 10);
}

TEST_CASE("a merge or a withdrawal killed at any moment leaves everything or nothing", "[kill]") {
    std::mt19937 random(20260102);
    TemporaryFolder folder;
    // Ours is empty; theirs hold a few readings, or so many that they are taken in as table files.
    const fs::path ours = folder.path() / "ours";
    Store::create(ours, {"", "", "tester", "2026-01-01T00:00:00Z"});
    struct Theirs {
        fs::path graph;
        KilledLoad load;
        long merge_time = 0, withdraw_time = 0;
    };
    std::vector<Theirs> theirs;
    for (const std::size_t rows : {std::size_t{200}, std::size_t{3000}}) {
        const int number = static_cast<int>(rows);
        Theirs one{folder.path() / ("theirs-" + std::to_string(rows)), {"source:s-" + std::to_string(rows), rows}, 0, 0};
        Store::create(one.graph, {"", "", "other", "2026-01-01T00:00:00Z"});
        const fs::path file = folder.path() / "claims.csv";
        write_claims(file, number, rows);
        time_of({"--graph", one.graph.string(), "load", file.string()});
        const fs::path merged = folder.path() / "merged";
        fs::copy(ours, merged, fs::copy_options::recursive);
        one.merge_time = time_of({"--graph", merged.string(), "merge", one.graph.string()});
        one.withdraw_time = time_of({"--graph", merged.string(), "withdraw", "--entry", "2", "--reason", "not ours"});
        fs::remove_all(merged);
        theirs.push_back(std::move(one));
    }
    int done = 0, undone = 0;
    for (int round = 0; round < rounds; ++round) {
        const Theirs& other = theirs[static_cast<std::size_t>(round / 2 % 2)];
        const bool merges = round % 2 == 0;
        const fs::path graph = folder.path() / "killed";
        fs::copy(merges ? ours : other.graph, graph, fs::copy_options::recursive);
        if (merges) start_and_kill({"--graph", graph.string(), "merge", other.graph.string()}, other.merge_time * 5 / 4, random);
        else start_and_kill({"--graph", graph.string(), "withdraw", "--entry", "2", "--reason", "not ours"}, other.withdraw_time * 5 / 4, random);
        {
            const Store store = Store::open(graph, Access::write);
            const CheckReport report = check(store);
            INFO("round " << round << (report.damage.empty() ? "" : ": " + report.damage.front()));
            REQUIRE(report.damage.empty());
            const std::size_t readings = readings_of(*store.snapshot(), other.load.source);
            REQUIRE((readings == 0 || readings == other.load.readings));
            const bool happened = merges == (readings != 0);
            REQUIRE(store.last_entry() == (merges ? (happened ? 2u : 1u) : (happened ? 3u : 2u)));
            ++(happened ? done : undone);
        }
        fs::remove_all(graph);
    }
    CHECK(done > 10);
    CHECK(undone > 10);
}

TEST_CASE("a load of photographs killed at any moment keeps every picture that the graph names", "[kill]") {
    std::mt19937 random(20260103);
    TemporaryFolder folder;
    const fs::path pictures = folder.path() / "pictures";
    fs::create_directories(pictures);
    constexpr int count = 20;
    for (int i = 0; i < count; ++i) {
        std::ofstream out(pictures / ("p" + std::to_string(i) + ".gif"), std::ios::binary);
        out << "GIF89a" << std::string("\x40\0\x30\0", 4) << std::string(100'000 + static_cast<std::size_t>(i), static_cast<char>('a' + i));
    }
    const auto words_for = [&](const fs::path& graph) {
        return std::vector<std::string>{"--graph", graph.string(), "load", pictures.string()};
    };
    Store::create(folder.path() / "unkilled", {"", "", "tester", "2026-01-01T00:00:00Z"});
    const long usual = time_of(words_for(folder.path() / "unkilled"));
    int done = 0, undone = 0, left_over = 0;
    for (int round = 0; round < 50; ++round) {
        const fs::path graph = folder.path() / "killed";
        Store::create(graph, {"", "", "tester", "2026-01-01T00:00:00Z"});
        start_and_kill(words_for(graph), usual * 3 / 2, random);
        {
            const Store store = Store::open(graph, Access::write);
            const CheckReport report = check(store);
            INFO("round " << round << (report.damage.empty() ? "" : ": " + report.damage.front()));
            REQUIRE(report.damage.empty());
            REQUIRE(report.missing_pictures.empty());
            REQUIRE((report.pictures == 0 || report.pictures == count));
            ++(report.pictures == 0 ? undone : done);
            if (report.pictures == 0 && fs::exists(graph / "media") && !fs::is_empty(graph / "media")) ++left_over;
        }
        // What was left behind is in nobody's way.
        int status = 0;
        ::waitpid(start(words_for(graph)), &status, 0);
        REQUIRE(status == 0);
        const Store store = Store::open(graph, Access::write);
        REQUIRE(check(store).pictures == count);
        REQUIRE(check(store).missing_pictures.empty());
        fs::remove_all(graph);
    }
    CHECK(done > 2);
    CHECK(undone > 10);
    CHECK(left_over > 2);  // some were killed while pictures were being kept
}
