#include "importers/photographs/photographs.h"

#include <catch2/catch.hpp>

#include "kg/model/sha512.h"
#include "tests/importers/collect_folder.h"
#include "tests/importers/photographs/picture_bytes.h"
#include "tests/kg/store/temporary_folder.h"

using namespace saggar;
using namespace saggar::test;
namespace fs = std::filesystem;

TEST_CASE("a folder of photographs becomes sources with their checksum, size and date", "[photographs]") {
    testing::TemporaryFolder folder;
    put_file(folder.path() / "Stand at fair.jpg", jpeg(400, 300, exif("2019:05:04 10:11:12")));
    put_file(folder.path() / "Stand at fair.txt",
             "\xEF\xBB\xBFgrade: later-work\r\nprivate: yes\r\n\r\nThe stand.\r\nThe [Lantern](shape:lantern) jug is on "
             "it.\r\nxywh=10,20,30,40 [Orlop](shape:orlop) tureen\r\n");
    put_file(folder.path() / "marks" / "one.png", png(20, 10));
    Problems problems;
    const CollectedFolder read = read_folder(folder.path(), problems);
    INFO(all_problems(problems));
    CHECK(problems.errors() + problems.warnings() == 0);
    const Source stand = read.source("source:stand-at-fair");
    CHECK(stand.type == "photograph");
    CHECK(stand.grade == "later-work");
    CHECK(stand.title == "The stand.");
    CHECK(stand.issued == "2019-05-04");
    CHECK(stand.is_private);
    CHECK(read.more(stand.key, "captured") == "2019-05-04T10:11:12");
    CHECK(read.more(stand.key, "dimensions") == "400 x 300");
    CHECK(read.more(stand.key, "medium") == "image/jpeg");
    CHECK(read.more(stand.key, "file") == "Stand at fair.jpg");
    CHECK(read.more(stand.key, "abstract") == "The stand.\nThe Lantern jug is on it.");
    const std::string hash = sha512_of_file(folder.path() / "Stand at fair.jpg", Sha512::Kind::cut_to_256);
    CHECK(read.more(stand.key, "checksum") == "sha-512/256:" + hash);
    CHECK(read.pictures.at("Stand at fair.jpg") == hash);
    CHECK(read.source("source:marks-one").title == "one");
    const auto evidence = read.records.all<Evidence>();
    REQUIRE(evidence.size() == 2);
    CHECK(evidence[0].quote == "The Lantern jug is on it.");
    CHECK(evidence[0].at.empty());
    CHECK(evidence[1].at == "xywh=10,20,30,40");
    CHECK(evidence[1].quote == "Orlop tureen");
}

TEST_CASE("the side file's date beats that of the camera", "[photographs]") {
    testing::TemporaryFolder folder;
    put_file(folder.path() / "print.jpg", jpeg(4, 3, exif("2019:05:04 10:11:12")));
    put_file(folder.path() / "print.txt", "issued: c. 1935\nsource: source:old-print\n");
    Problems problems;
    const CollectedFolder read = read_folder(folder.path(), problems);
    CHECK(read.source("source:old-print").issued == "1935~");
    CHECK(read.more("source:old-print", "captured") == "2019-05-04T10:11:12");
}

TEST_CASE("what is wrong in a folder of photographs is said with its place", "[photographs]") {
    testing::TemporaryFolder folder;
    put_file(folder.path() / "a.jpg", "no picture at all");
    put_file(folder.path() / "b.png", png(20, 10));
    put_file(
        folder.path() / "b.txt",
        "issued: some day\nprivate: perhaps\n\nxywh=10,0,20,10 beyond\nxywh=a,b no region\n");
    put_file(folder.path() / "B.jpg", jpeg(5, 5));
    put_file(folder.path() / "c.gif", "GIF89a" + little(3, 2) + little(2, 2));
    put_file(folder.path() / "d.gif", "GIF89a" + little(3, 2) + little(2, 2));
    put_file(folder.path() / "e.jpg", jpeg(4, 3, exif("2019:13:04 10:11:12")));
    put_file(folder.path() / "e.txt", "See [x](nosuchkind:y).\n");
    put_file(folder.path() / "lost.txt", "A caption without its picture");
    put_file(folder.path() / "list.csv", "a,b\n");
    put_file(folder.path() / ".hidden.jpg", "x");
    fs::create_symlink("/etc", folder.path() / "link");
    Problems problems;
    read_folder(folder.path(), problems);
    const std::string all = all_problems(problems);
    CHECK_THAT(all, Catch::Contains("folder/a.jpg: error: the file is no JPEG, PNG, GIF, WebP or TIFF picture with a "
                                    "size [photograph-damaged]"));
    CHECK_THAT(all, Catch::Contains("folder/b.txt:1:9: error: "));
    CHECK_THAT(all, Catch::Contains("folder/b.txt:2:10: error: "));
    CHECK_THAT(all, Catch::Contains("folder/b.txt:4:1: error: \"xywh=10,0,20,10\" reaches beyond the picture, which is "
                                    "20 x 10 [region-outside]"));
    CHECK_THAT(all, Catch::Contains("folder/b.txt:5:1: error: \"xywh=a,b\" is not a region [region-invalid]"));
    CHECK_THAT(all, Catch::Contains("folder/e.txt:1:1: error: unknown kind \"nosuchkind\""));
    CHECK_THAT(all, Catch::Contains("folder/b.png: error: B.jpg is source:b too [photograph-same-key]"));
    CHECK_THAT(all, Catch::Contains("folder/d.gif: warning: this is the same picture as c.gif [photograph-twice]"));
    CHECK_THAT(all,
               Catch::Contains(
                   "folder/e.jpg: warning: its EXIF date of capture, \"2019:13:04 10:11:12\", is no date [exif-date]"));
    CHECK_THAT(all, Catch::Contains(
                        "folder/lost.txt: warning: there is no photograph of this name [caption-without-picture]"));
    CHECK_THAT(
        all, Catch::Contains("folder/list.csv: warning: this is no photograph and is passed over [photographs-other]"));
    CHECK_THAT(all, Catch::Contains("folder/link: warning: symbolic links are not followed [photographs-link]"));
    CHECK_THAT(all, !Catch::Contains("hidden"));
    for (const Problem& problem : problems.list()) CHECK_FALSE(problem.next_step.empty());
}

TEST_CASE("an empty folder, and one source for many photographs, are refused", "[photographs]") {
    testing::TemporaryFolder folder;
    Problems none;
    read_folder(folder.path(), none);
    CHECK(problem_ids(none) == "photographs-none");
    put_file(folder.path() / "a.png", png(2, 2));
    ReadOptions options;
    options.source = "source:only";
    Problems one;
    CHECK(read_folder(folder.path(), one, options).source("source:only").title == "a");
    CHECK_FALSE(one.any_error());
    put_file(folder.path() / "b.png", png(3, 3));
    Problems two;
    read_folder(folder.path(), two, options);
    CHECK(problem_ids(two) == "photographs-one-source");
}

TEST_CASE("a format of files is not read from a folder, nor the other way round", "[photographs]") {
    testing::TemporaryFolder folder;
    ReadOptions options;
    options.format = Format::ris;
    Problems problems;
    read_folder(folder.path(), problems, options);
    CHECK(problem_ids(problems) == "format-needs-file");
    options.format = Format::bag;
    Problems other;
    read_text("x", "x.txt", other, options);
    CHECK(problem_ids(other) == "format-needs-folder");
}
