// Files that are there whole or not at all.
#include "app/whole_file.h"

#include <sys/stat.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <iostream>
#include <thread>

#include "kg/model/fault.h"
#include "tests/app/command.h"

using namespace saggar;
using namespace saggar::app;
using namespace saggar::testing;

namespace {

namespace fs = std::filesystem;

std::string bytes_of(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

std::size_t files_in(const fs::path& folder) {
    return static_cast<std::size_t>(std::distance(fs::directory_iterator(folder), {}));
}

}  // namespace

TEST_CASE("a file that is not finished leaves the old one and nothing beside it", "[whole-file]") {
    TemporaryFolder folder;
    const std::string file = (folder.path() / "out.nq").string();
    write_whole(file, "old", std::cerr);
    {
        WholeFile half(file);
        half.out() << "new";
    }
    CHECK(bytes_of(file) == "old");
    CHECK(files_in(folder.path()) == 1);
    WholeFile whole(file);
    whole.out() << "new";
    whole.finish();
    CHECK(bytes_of(file) == "new");
    CHECK(files_in(folder.path()) == 1);
}

TEST_CASE("a file that is written again keeps its permissions, and a link stays a link", "[whole-file]") {
    TemporaryFolder folder;
    const fs::path file = folder.path() / "kept.jsonl";
    const fs::path link = folder.path() / "link.jsonl";
    write_whole(file.string(), "old", std::cerr);
    fs::permissions(file, fs::perms::owner_read | fs::perms::owner_write);
    fs::create_symlink(file, link);
    write_whole(link.string(), "new", std::cerr);
    CHECK(fs::is_symlink(link));
    CHECK(bytes_of(file) == "new");
    CHECK(fs::status(file).permissions() == (fs::perms::owner_read | fs::perms::owner_write));
}

TEST_CASE("a pipe is written to and stays a pipe", "[whole-file]") {
    TemporaryFolder folder;
    const std::string pipe = (folder.path() / "pipe").string();
    REQUIRE(::mkfifo(pipe.c_str(), 0600) == 0);
    std::string read;
    std::thread reader([&] { read = bytes_of(pipe); });
    write_whole(pipe, "words", std::cerr);
    reader.join();
    CHECK(read == "words");
    CHECK(fs::is_fifo(pipe));
    CHECK(files_in(folder.path()) == 1);
}

TEST_CASE("what cannot be written is told before the work begins", "[whole-file]") {
    TemporaryFolder folder;
    CHECK_THROWS_AS(WholeFile((folder.path() / "no folder" / "x").string()), UsageFault);
    CHECK_THROWS_AS(WholeFile(folder.path().string()), UsageFault);
    CHECK(files_in(folder.path()) == 0);
}

TEST_CASE("output that the disk does not take is a failure, and leaves nothing half written", "[whole-file]") {
    const CommandGraph graph;
    CHECK(graph.said("export >/dev/full; echo status $?").find("the answer could not be written") != std::string::npos);
    CHECK(graph.said("export 2>&1 >/dev/full; echo status $?").find("status 1") != std::string::npos);
    graph.write("out.jsonl", "old");
    // A limit of the shell on the size of files stands for a full disk.
    const std::string said = graph.shell("trap '' XFSZ; ulimit -f 4; '" SAGGAR_BIN_DIR "/saggar' --graph graph export -o out.jsonl; echo status $?");
    CHECK(said.find("out.jsonl cannot be written") != std::string::npos);
    CHECK(said.find("status 1") != std::string::npos);
    CHECK(bytes_of(graph.path("out.jsonl")) == "old");
    CHECK(graph.said("export --format no-such -o x; echo status $?").find("status 2") != std::string::npos);
    CHECK(graph.shell("ls") == "graph\nout.jsonl\n");
}
