// The claims between things, seen from either end, without their evidence.
#include <array>

#include "kg/store/keys.h"
#include "kg/store/row_codec.h"
#include "kg/store/snapshot_state.h"

namespace saggar {
namespace {

// The beginning of a link's key: thing, relation and side.
class LinkPrefix {
public:
    static constexpr std::size_t thing_bytes = 1 + 8;

    explicit LinkPrefix(EntityId thing) {
        bytes_[0] = 'o';
        put(thing.value, 8, 1);
    }
    rocksdb::Slice thing() const { return {bytes_.data(), thing_bytes}; }
    rocksdb::Slice with(LinkChoice::Group group) {
        put(group >> 1, 4, thing_bytes);
        bytes_.back() = static_cast<char>(group & 1);
        return {bytes_.data(), bytes_.size()};
    }
    static LinkChoice::Group group_of(const Link& link) { return LinkChoice::group(link.claim.relation, link.forward); }

private:
    void put(std::uint64_t number, std::size_t count, std::size_t at) {
        for (std::size_t i = 0; i < count; ++i) bytes_[at + i] = static_cast<char>(number >> (8 * (count - 1 - i)));
    }
    std::array<char, thing_bytes + 4 + 1> bytes_{};
};

// Whether the iterator stands on a link of the thing; reads it. (Asking for the key goes through four layers: once a row.)
bool read(const rocksdb::Iterator& at, const LinkPrefix& prefix, EntityId thing, Link& link) {
    if (!at.Valid()) return false;
    const rocksdb::Slice key = at.key();
    if (!key.starts_with(prefix.thing())) return false;
    Bytes bytes(view(key).substr(LinkPrefix::thing_bytes));
    link = keys::read_link(thing, bytes);
    return true;
}

// An iterator that stands on a key is sound; asking it costs as much as a step.
void finish(const rocksdb::Iterator& at) {
    if (!at.Valid()) require(at.status(), "read the graph");
}

}  // namespace

std::vector<ClaimRef> Snapshot::claims_about(EntityId object) const {
    std::vector<ClaimRef> found;
    const LinkPrefix prefix(object);
    auto& at = state_->links_cursor(*db_);
    Link link;
    for (at.Seek(prefix.thing()); read(at, prefix, object, link); at.Next()) {
        if (!link.forward && value_in_force(view(at.value()), entry_)) found.push_back(link.claim);
    }
    finish(at);
    return found;
}

std::vector<Link> Snapshot::links(EntityId id) const {
    std::vector<Link> found;
    links(id, found);
    return found;
}

void Snapshot::links(EntityId id, std::vector<Link>& into) const {
    into.clear();
    std::vector<Link>& backward = state_->backward;
    backward.clear();
    const LinkPrefix prefix(id);
    auto& at = state_->links_cursor(*db_);
    Link link;
    for (at.Seek(prefix.thing()); read(at, prefix, id, link); at.Next()) {
        if (value_in_force(view(at.value()), entry_)) (link.forward ? into : backward).push_back(link);
    }
    finish(at);
    into.insert(into.end(), backward.begin(), backward.end());
}

void Snapshot::links(EntityId id, const LinkChoice& choice, std::vector<Link>& into) const {
    // A jump to the next group costs about as much as passing this many links (measured).
    constexpr std::size_t most_passed = 12;
    into.clear();
    std::vector<Link>& backward = state_->backward;
    backward.clear();
    LinkPrefix prefix(id);
    auto wanted = choice.groups().begin();
    const auto end = choice.groups().end();
    if (wanted == end) return;
    auto& at = state_->links_cursor(*db_);
    std::size_t passed = 0;
    Link link;
    at.Seek(prefix.with(*wanted));
    while (read(at, prefix, id, link)) {
        const LinkChoice::Group group = LinkPrefix::group_of(link);
        while (wanted != end && *wanted < group) ++wanted;
        if (wanted == end) break;
        if (*wanted == group) {
            if (value_in_force(view(at.value()), entry_)) (link.forward ? into : backward).push_back(link);
            passed = 0;
        } else if (++passed > most_passed) {
            at.Seek(prefix.with(*wanted));
            passed = 0;
            continue;
        }
        at.Next();
    }
    finish(at);
    into.insert(into.end(), backward.begin(), backward.end());
}

}  // namespace saggar
