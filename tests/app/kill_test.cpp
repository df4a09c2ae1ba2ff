// A process killed at any moment leaves everything or nothing: 200 loads and notes, 200 merges, 200 withdrawals and 60 changes of
// the vocabulary are killed at random moments, and after each the graph is whole and holds whole files only. Two lanes run beside
// each other, each in graphs of its own.
#include <fcntl.h>
#include <signal.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <atomic>
#include <catch2/catch.hpp>
#include <chrono>
#include <exception>
#include <fstream>
#include <functional>
#include <random>
#include <stdexcept>
#include <string>
#include <thread>
#include <vector>

#include "kg/model/vocabulary.h"
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
    const int failed = posix_spawn(&child, argv[0], &actions, nullptr, argv.data(), environ);
    posix_spawn_file_actions_destroy(&actions);
    if (failed) throw std::runtime_error("cannot start " + words.front());
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
    load.readings = round % 4 == 1 ? 200 : 2600;
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
    if (status != 0) throw std::runtime_error("a command that nobody killed failed");
    return std::chrono::duration_cast<std::chrono::microseconds>(std::chrono::steady_clock::now() - begin).count();
}

// How long to let a command run: any moment up to a longest one, which follows how fast the machine is meanwhile, so that about
// a quarter of the commands get their work done however busy it is.
class Moments {
public:
    explicit Moments(long usual) : longest_(static_cast<double>(usual) * 5 / 4) {}
    Moments(const Moments& other) : longest_(other.longest_.load()) {}

    std::chrono::microseconds next(std::mt19937& random) const {
        return std::chrono::microseconds(std::uniform_int_distribution<long>(0, static_cast<long>(longest_))(random));
    }
    void learn(bool done) { longest_ = longest_ * (done ? .94 : 1.02); }

private:
    std::atomic<double> longest_;  // microseconds; two lanes may learn at once, and then one step is lost
};

// For each manner, by how long it takes on this machine when nobody kills it.
std::vector<Moments> usual_moments(const fs::path& folder) {
    std::vector<Moments> times;
    Store::create(folder / "unkilled", {"", "", "tester", "2026-01-01T00:00:00Z"});
    for (int manner = 0; manner < 4; ++manner) {
        KilledLoad load{"source:unkilled-" + std::to_string(manner), 1};
        times.emplace_back(time_of(command_of(9000 + manner - 9000 % 4, folder / "unkilled", folder, load)));
    }
    return times;
}

// Runs the command and kills it at a random moment.
void start_and_kill(const std::vector<std::string>& words, const Moments& moments, std::mt19937& random) {
    const pid_t child = start(words);
    std::this_thread::sleep_for(moments.next(random));
    ::kill(child, SIGKILL);
    int status = 0;
    ::waitpid(child, &status, 0);
}

std::size_t readings_of(const Snapshot& snapshot, const std::string& source) {
    const auto id = snapshot.find(source);
    return id ? snapshot.evidence_from(*id).size() : 0;
}

// Damage of a graph and what it holds of a source, seen after a kill.
struct Seen {
    std::size_t readings = 0;
    std::uint64_t last_entry = 0;
};

Seen look_at(const fs::path& graph, const std::string& source) {
    const Store store = Store::open(graph, Access::write);
    const CheckReport report = check(store);
    if (!report.damage.empty()) throw std::runtime_error(report.damage.front());
    return {readings_of(*store.snapshot(), source), store.last_entry()};
}

// All rounds, every other one in the second lane. `round`: true where the killed command had done its work; it throws where it
// left neither everything nor nothing. Both must happen, else this would have tested nothing.
void in_two_lanes(const std::function<bool(int round, const fs::path& folder, std::mt19937& random)>& round) {
    std::atomic<int> done{0}, undone{0};
    std::exception_ptr failures[2];
    const auto lane = [&](int first) {
        try {
            TemporaryFolder folder;
            std::mt19937 random(20260101 + static_cast<unsigned>(first));
            for (int i = first; i < rounds; i += 2) ++(round(i, folder.path(), random) ? done : undone);
        } catch (...) {
            failures[first] = std::current_exception();
        }
    };
    std::thread second(lane, 1);
    lane(0);
    second.join();
    for (const std::exception_ptr& failure : failures)
        if (failure) std::rethrow_exception(failure);
    CHECK(done + undone == rounds);
    CHECK(done > 10);
    CHECK(undone > 10);
}

// A graph with `rows` readings of one source, made by one load (entry 2), and how long it takes to merge it and to take it back.
struct Theirs {
    fs::path graph;
    KilledLoad load;
    Moments merging{0}, withdrawing{0};
};

// A few readings, which go in as a batch, or so many that they are taken in as table files.
std::vector<Theirs> their_graphs(const fs::path& folder) {
    Store::create(folder / "ours", {"", "", "tester", "2026-01-01T00:00:00Z"});
    std::vector<Theirs> theirs;
    for (const std::size_t rows : {std::size_t{200}, std::size_t{2600}}) {
        Theirs one{folder / ("theirs-" + std::to_string(rows)), {"source:s-" + std::to_string(rows), rows}, Moments(0), Moments(0)};
        Store::create(one.graph, {"", "", "other", "2026-01-01T00:00:00Z"});
        write_claims(folder / "claims.csv", static_cast<int>(rows), rows);
        time_of({"--graph", one.graph.string(), "load", (folder / "claims.csv").string()});
        fs::copy(folder / "ours", folder / "merged", fs::copy_options::recursive);
        const std::string merged = (folder / "merged").string();
        const long merging = time_of({"--graph", merged, "merge", one.graph.string()});
        const long withdrawing = time_of({"--graph", merged, "withdraw", "--entry", "2", "--reason", "not ours"});
        fs::remove_all(merged);
        theirs.push_back({one.graph, one.load, Moments(merging), Moments(withdrawing)});
    }
    return theirs;
}

void must_be(bool right, const Seen& seen) {
    if (!right) throw std::runtime_error("left " + std::to_string(seen.readings) + " readings at entry " + std::to_string(seen.last_entry));
}

}  // namespace

TEST_CASE("a load or a note killed at any moment leaves everything or nothing", "[kill][kill-load]") {
    TemporaryFolder shared;
    std::vector<Moments> moments = usual_moments(shared.path());
    in_two_lanes([&](int round, const fs::path& folder, std::mt19937& random) {
        const fs::path graph = folder / ("graph-" + std::to_string(round / rounds_per_graph));
        if (!fs::exists(graph)) Store::create(graph, {"", "", "tester", "2026-01-01T00:00:00Z"});
        const int manner = round / 2 % 4;  // each lane meets all four
        const int number = round - round % 4 + manner;
        KilledLoad load{"source:s-" + std::to_string(number), 1};
        Moments& usual = moments[static_cast<std::size_t>(manner)];
        start_and_kill(command_of(number, graph, folder, load), usual, random);
        const Seen seen = look_at(graph, load.source);
        must_be(seen.readings == 0 || seen.readings == load.readings, seen);
        usual.learn(seen.readings != 0);
        return seen.readings != 0;
    });
}

TEST_CASE("a merge killed at any moment leaves everything or nothing", "[kill][kill-merge]") {
    TemporaryFolder shared;
    std::vector<Theirs> theirs = their_graphs(shared.path());
    in_two_lanes([&](int round, const fs::path& folder, std::mt19937& random) {
        Theirs& other = theirs[static_cast<std::size_t>(round / 2 % 2)];
        const fs::path graph = folder / "killed";
        fs::copy(shared.path() / "ours", graph, fs::copy_options::recursive);
        start_and_kill({"--graph", graph.string(), "merge", other.graph.string()}, other.merging, random);
        const Seen seen = look_at(graph, other.load.source);
        must_be(seen.readings == (seen.last_entry == 2 ? other.load.readings : 0) && (seen.last_entry == 1 || seen.last_entry == 2), seen);
        fs::remove_all(graph);
        other.merging.learn(seen.last_entry == 2);
        return seen.last_entry == 2;
    });
}

TEST_CASE("a withdrawal killed at any moment leaves everything or nothing", "[kill][kill-withdraw]") {
    TemporaryFolder shared;
    std::vector<Theirs> theirs = their_graphs(shared.path());
    in_two_lanes([&](int round, const fs::path& folder, std::mt19937& random) {
        Theirs& other = theirs[static_cast<std::size_t>(round / 2 % 2)];
        const fs::path graph = folder / "killed";
        fs::copy(other.graph, graph, fs::copy_options::recursive);
        start_and_kill({"--graph", graph.string(), "withdraw", "--entry", "2", "--reason", "not ours"}, other.withdrawing, random);
        const Seen seen = look_at(graph, other.load.source);
        must_be(seen.readings == (seen.last_entry == 2 ? other.load.readings : 0) && (seen.last_entry == 2 || seen.last_entry == 3), seen);
        fs::remove_all(graph);
        other.withdrawing.learn(seen.last_entry == 3);
        return seen.last_entry == 3;
    });
}

TEST_CASE("a load of photographs killed at any moment keeps every picture that the graph names", "[kill][kill-pictures]") {
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
    Moments usual(time_of(words_for(folder.path() / "unkilled")));
    int done = 0, undone = 0, left_over = 0;
    // Fifty moments; more where too few of them fell into the keeping of pictures.
    for (int round = 0; round < 50 || (round < 400 && left_over <= 2); ++round) {
        const fs::path graph = folder.path() / "killed";
        Store::create(graph, {"", "", "tester", "2026-01-01T00:00:00Z"});
        start_and_kill(words_for(graph), usual, random);
        {
            const Store store = Store::open(graph, Access::write);
            const CheckReport report = check(store);
            INFO("round " << round << (report.damage.empty() ? "" : ": " + report.damage.front()));
            REQUIRE(report.damage.empty());
            REQUIRE(report.missing_pictures.empty());
            REQUIRE((report.pictures == 0 || report.pictures == count));
            ++(report.pictures == 0 ? undone : done);
            usual.learn(report.pictures != 0);
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

TEST_CASE("another vocabulary whose rules are killed at any moment changes everything or nothing", "[kill][kill-vocabulary]") {
    TemporaryFolder folder;
    std::mt19937 random(20260105);
    const fs::path first = folder.path() / "first", next = folder.path() / "next.json";
    const auto vocabulary = [](const std::string& version, const std::string& rules) {
        return R"({"vocabulary": "v", "version": ")" + version + R"(", "kinds": {"piece": {"label": "p"}, "item": {"label": "i"}, "source": {"label": "s"}},
            "relations": {"instance-of": {"from": ["piece"], "to": ["item"], "label": "is"}, "like": {"from": ["piece"], "to": ["item"], "label": "is like"}},
            "rules": [)" + rules + "]}";
    };
    std::ofstream(next) << vocabulary("2", R"({"name": "r", "when": [["?p", "instance-of", "?i"]], "then": ["?p", "like", "?i"], "strength": 1, "reason": "r"})");
    Store::create(first, {vocabulary("1", ""), "", "tester", "2026-01-01T00:00:00Z"});
    constexpr std::size_t rows = 3000;
    write_claims(folder.path() / "claims.csv", 1, rows);
    time_of({"--graph", first.string(), "load", (folder.path() / "claims.csv").string()});
    const auto words_for = [&](const fs::path& graph) {
        return std::vector<std::string>{"--graph", graph.string(), "vocabulary", "load", next.string()};
    };
    const fs::path graph = folder.path() / "killed";
    fs::copy(first, graph, fs::copy_options::recursive);
    Moments usual(time_of(words_for(graph)));
    int done = 0, undone = 0;
    for (int round = 0; round < 60; ++round) {
        fs::remove_all(graph);
        fs::copy(first, graph, fs::copy_options::recursive);
        start_and_kill(words_for(graph), usual, random);
        const Store store = Store::open(graph, Access::write);
        const CheckReport report = check(store);
        INFO("round " << round << (report.damage.empty() ? "" : ": " + report.damage.front()));
        REQUIRE(report.damage.empty());
        const bool taken = store.last_entry() == 3;
        REQUIRE((taken || store.last_entry() == 2));
        REQUIRE(report.arguments == (taken ? rows : 0));
        REQUIRE(store.snapshot()->vocabulary().version() == (taken ? "2" : "1"));
        ++(taken ? done : undone);
        usual.learn(taken);
    }
    CHECK(done > 5);
    CHECK(undone > 5);
}
