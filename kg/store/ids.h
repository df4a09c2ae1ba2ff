// Dense internal numbers: small, ordered, valid inside one graph folder only.
#pragma once

#include <compare>
#include <cstdint>
#include <functional>

namespace saggar {

struct EntityId {
    std::uint64_t value = 0;  // 0: none; the first entity is 1
    auto operator<=>(const EntityId&) const = default;
    explicit operator bool() const { return value != 0; }
};

struct RelationId {
    std::uint32_t value = 0;  // 0: none
    auto operator<=>(const RelationId&) const = default;
    explicit operator bool() const { return value != 0; }
};

// Names a claim and says where it lies: claims are stored under their subject, beside their evidence.
struct ClaimRef {
    EntityId subject;
    RelationId relation;
    std::uint64_t number = 0;  // dense over all claims; 0: none
    auto operator<=>(const ClaimRef&) const = default;
    explicit operator bool() const { return number != 0; }
};

}  // namespace saggar

template <>
struct std::hash<saggar::EntityId> {
    std::size_t operator()(const saggar::EntityId& id) const noexcept { return id.value * 0x9E3779B97F4A7C15u; }
};
template <>
struct std::hash<saggar::ClaimRef> {
    // Claim numbers are dense and unique, so the number alone tells claims apart.
    std::size_t operator()(const saggar::ClaimRef& ref) const noexcept { return ref.number * 0x9E3779B97F4A7C15u; }
};
