#include "kg/store/versions.h"

#include "kg/store/database.h"
#include "kg/store/keys.h"
#include "kg/store/row_codec.h"

namespace saggar {
namespace {

template <typename Described>
std::vector<std::pair<std::uint64_t, Described>> versions_at(const Snapshot& snapshot, const std::string& key) {
    std::vector<std::pair<std::uint64_t, Described>> all;
    const auto value = snapshot.database().get(key);
    if (!value) return all;
    for (const auto& [since, fields] : decode_versions(*value)) {
        if (since > snapshot.entry()) break;
        all.emplace_back(since, Described{});
        decode(fields, all.back().second);
    }
    return all;
}

}  // namespace

std::vector<std::pair<std::uint64_t, Entity>> entity_versions(const Snapshot& snapshot, EntityId id) {
    return versions_at<Entity>(snapshot, keys::entity(id));
}

std::vector<std::pair<std::uint64_t, Source>> source_versions(const Snapshot& snapshot, EntityId id) {
    return versions_at<Source>(snapshot, keys::source(id));
}

}  // namespace saggar
