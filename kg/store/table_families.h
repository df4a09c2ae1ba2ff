// Which families of keys (their first byte, keys.h) a table file holds, written into the file, so that a scan of one family leaves
// the other files alone.
//
// Idea: a flush after a few notes makes a table file from "c" to "v"; without this every jump within one family would look into
// it, whatever it holds. Cost: a comparison for each key written, a look into a table's properties when a cursor is made.
// Source: RocksDB's TablePropertiesCollector and ReadOptions::table_filter. A file without the mark (written before) is read.
#pragma once

#include <rocksdb/options.h>

#include <memory>

namespace saggar {

// Marks every table that is written with options which have it. Any thread.
std::shared_ptr<rocksdb::TablePropertiesCollectorFactory> family_marks();

// Options for scans that stay within one family.
rocksdb::ReadOptions within_family(char family);

}  // namespace saggar
