#include "kg/store/table_families.h"

#include <rocksdb/sst_file_reader.h>
#include <rocksdb/sst_file_writer.h>

#include <catch2/catch.hpp>

#include "kg/store/database.h"
#include "tests/kg/store/temporary_folder.h"

using namespace saggar;
using saggar::testing::TemporaryFolder;

namespace {

// Writes keys as a table and tells whether a scan within `family` would read it.
bool would_read(const rocksdb::Options& options, const std::vector<std::string>& keys, char family) {
    const TemporaryFolder folder;
    const std::string path = (folder.path() / "one.sst").string();
    rocksdb::SstFileWriter writer(rocksdb::EnvOptions(), options);
    REQUIRE(writer.Open(path).ok());
    for (const std::string& key : keys) REQUIRE(writer.Put(key, "x").ok());
    REQUIRE(writer.Finish().ok());
    rocksdb::SstFileReader reader(options);
    REQUIRE(reader.Open(path).ok());
    return within_family(family).table_filter(*reader.GetTableProperties());
}

}  // namespace

TEST_CASE("a scan of a family reads only the tables that hold it", "[store]") {
    const std::vector<std::string> keys = {"c1", "c2", "h1", "t1"};
    for (const char family : {'c', 'h', 't'}) CHECK(would_read(tuned_options(), keys, family));
    for (const char family : {'a', 'e', 'o', 'z'}) CHECK_FALSE(would_read(tuned_options(), keys, family));
}

TEST_CASE("a table that is not marked is read", "[store]") {
    rocksdb::Options unmarked = tuned_options();
    unmarked.table_properties_collector_factories.clear();
    CHECK(would_read(unmarked, {"c1"}, 'o'));
}

TEST_CASE("a family that was only taken back from counts as held", "[store]") {
    const TemporaryFolder folder;
    rocksdb::Options options = tuned_options();
    options.create_if_missing = true;
    rocksdb::DB* raw = nullptr;
    REQUIRE(rocksdb::DB::Open(options, (folder.path() / "db").string(), &raw).ok());
    const std::unique_ptr<rocksdb::DB> db(raw);
    REQUIRE(db->Put({}, "o1", "x").ok());
    REQUIRE(db->Flush({}).ok());
    REQUIRE(db->Put({}, "c1", "x").ok());
    REQUIRE(db->Delete({}, "o1").ok());
    REQUIRE(db->Flush({}).ok());
    const std::unique_ptr<rocksdb::Iterator> at(db->NewIterator(within_family('o')));
    at->SeekToFirst();
    CHECK((!at->Valid() || at->key() != "o1"));
}
