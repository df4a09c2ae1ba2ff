#include "kg/store/table_families.h"

#include <rocksdb/table_properties.h>

#include <string>

namespace saggar {
namespace {

constexpr const char* families_property = "saggar.families";

class FamilyMarks : public rocksdb::TablePropertiesCollector {
public:
    rocksdb::Status AddUserKey(const rocksdb::Slice& key, const rocksdb::Slice&, rocksdb::EntryType, rocksdb::SequenceNumber,
                               std::uint64_t) override {
        // Keys come in order, so a family that was seen is the last one.
        if (!key.empty() && (families_.empty() || families_.back() != key[0])) families_ += key[0];
        return rocksdb::Status::OK();
    }
    rocksdb::Status Finish(rocksdb::UserCollectedProperties* properties) override {
        properties->emplace(families_property, families_);
        return rocksdb::Status::OK();
    }
    rocksdb::UserCollectedProperties GetReadableProperties() const override { return {{families_property, families_}}; }
    const char* Name() const override { return "saggar.FamilyMarks"; }

private:
    std::string families_;
};

class FamilyMarksFactory : public rocksdb::TablePropertiesCollectorFactory {
public:
    rocksdb::TablePropertiesCollector* CreateTablePropertiesCollector(Context) override { return new FamilyMarks; }
    const char* Name() const override { return "saggar.FamilyMarksFactory"; }
};

}  // namespace

std::shared_ptr<rocksdb::TablePropertiesCollectorFactory> family_marks() {
    static const auto factory = std::make_shared<FamilyMarksFactory>();
    return factory;
}

rocksdb::ReadOptions within_family(char family) {
    rocksdb::ReadOptions options;
    options.table_filter = [family](const rocksdb::TableProperties& table) {
        const auto mark = table.user_collected_properties.find(families_property);
        return mark == table.user_collected_properties.end() || mark->second.find(family) != std::string::npos;
    };
    return options;
}

}  // namespace saggar
