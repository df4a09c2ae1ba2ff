#include "kg/store/media.h"

#include <catch2/catch.hpp>

#include <fstream>

#include "kg/model/fault.h"
#include "kg/model/sha512.h"
#include "kg/store/check.h"
#include "tests/kg/store/temporary_folder.h"

using namespace saggar;
namespace fs = std::filesystem;

namespace {

void put(const fs::path& path, const std::string& text) { std::ofstream(path, std::ios::binary) << text; }

}  // namespace

TEST_CASE("a picture is kept once under its hash, whole or not at all") {
    testing::TemporaryFolder folder;
    const fs::path file = folder.path() / "a.jpg";
    put(file, "the picture");
    const std::string hash = sha512_of_file(file, Sha512::Kind::cut_to_256);
    const fs::path graph = folder.path() / "graph";
    fs::create_directory(graph);
    CHECK(media_state(graph, hash) == MediaState::missing);
    // What a crash leaves behind is in nobody's way.
    fs::create_directory(graph / "media");
    put(graph / "media" / (hash + ".part"), "the pic");
    CHECK(media_state(graph, hash) == MediaState::missing);
    CHECK(keep_media(graph, file, hash));
    CHECK_FALSE(keep_media(graph, file, hash));
    CHECK(media_state(graph, hash) == MediaState::whole);
    CHECK_FALSE(fs::exists(graph / "media" / (hash + ".part")));
    put(media_path(graph, hash), "another picture");
    CHECK(media_state(graph, hash) == MediaState::altered);
    CHECK(keep_media(graph, file, hash));
    CHECK(media_state(graph, hash) == MediaState::whole);
    put(file, "it changed");
    CHECK_THROWS_AS(keep_media(folder.path() / "graph2", file, hash), Fault);
    CHECK_THROWS_AS(keep_media(graph, file, "../../x"), UsageFault);
    CHECK(std::distance(fs::directory_iterator(graph / "media"), fs::directory_iterator()) == 1);
}

TEST_CASE("check tells pictures that are missing or altered") {
    testing::TemporaryFolder folder;
    const fs::path graph = folder.path() / "graph";
    Store store = Store::create(graph, {"", "", "M. E.", "2026-01-01T00:00:00Z"});
    const fs::path file = folder.path() / "a.jpg";
    put(file, "the picture");
    const std::string hash = sha512_of_file(file, Sha512::Kind::cut_to_256);
    Source source;
    source.key = "source:photo";
    source.more = {{"checksum", "sha-512/256:" + hash}};
    CHECK(media_hash(source) == hash);
    ChangeHead head;
    head.time = "2026-01-02T00:00:00Z";
    Change change = store.begin(head);
    change.put(source);
    change.commit();
    CHECK(check(store).missing_pictures == std::vector<std::string>{"source:photo"});
    CHECK(check(store).damage.empty());
    keep_media(graph, file, hash);
    CHECK(check(store).missing_pictures.empty());
    CHECK(check(store).pictures == 1);
    put(media_path(graph, hash), "spoilt");
    CHECK(check(store).damage.size() == 1);
    source.more = {{"checksum", "sha-512/256:../../../etc/passwd"}};
    CHECK(media_hash(source).empty());
}
