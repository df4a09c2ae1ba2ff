#include "kg/model/record.h"

#include <fmt/format.h>

namespace saggar {
namespace {

std::string exact(double number) {
    return fmt::format("{}", number);
}  // shortest text that reads back the same

std::string exact(const std::optional<double>& number) {
    return number ? exact(*number) : std::string();
}

std::string raw(const ContentId& id) {
    return std::string(reinterpret_cast<const char*>(id.bytes.data()), id.bytes.size());
}

std::string raw_or_nothing(const ContentId& id) {
    return id.empty() ? std::string() : raw(id);
}

std::string raw(const std::vector<ContentId>& ids) {
    std::string out;
    for (const ContentId& id : ids) out += raw(id);
    return out;
}

std::string_view stance_word(Stance stance) {
    return stance == Stance::in_favour ? "for" : "against";
}

}  // namespace

ContentId id_of(const Claim& claim) {
    static constexpr std::string_view types[] = {"entity", "text", "number", "date"};
    return ContentHash("claim")
        .field(claim.subject)
        .field(claim.relation)
        .field(types[static_cast<int>(claim.object.type)])
        .field(claim.object.text)
        .field(claim.object.unit)
        .field(claim.scope)
        .field(claim.when)
        .finish();
}

ContentId id_of(const Evidence& evidence) {
    return ContentHash("evidence")
        .field(raw(evidence.claim))
        .field(evidence.source)
        .field(stance_word(evidence.stance))
        .field(evidence.at)
        .field(evidence.quote)
        .field(evidence.certainty)
        .field(evidence.reading)
        .field(exact(evidence.mention))
        .field(raw_or_nothing(evidence.corrects))
        .field(evidence.remark)
        .finish();
}

ContentId id_of(const Listing& listing) {
    return ContentHash("list")
        .field(listing.source)
        .field(listing.subject)
        .field(listing.relation)
        .field(listing.scope)
        .field(listing.when)
        .field(exact(listing.completeness))
        .field(listing.at)
        .field(listing.quote)
        .field(listing.remark)
        .finish();
}

ContentId id_of(const Argument& argument) {
    return ContentHash("argument")
        .field(raw(argument.premises))
        .field(raw(argument.conclusion))
        .field(stance_word(argument.stance))
        .field(exact(argument.strength))
        .field(argument.reason)
        .field(argument.rule)
        .finish();
}

ContentId id_of(const Ruling& ruling) {
    static constexpr std::string_view decisions[] = {"accepted", "rejected", "left open"};
    return ContentHash("ruling")
        .field(raw(ruling.claim))
        .field(decisions[static_cast<int>(ruling.decision)])
        .field(ruling.reasons)
        .field(raw(ruling.looked_at))
        .field(ruling.decided_by)
        .field(ruling.decided_on)
        .finish();
}

}  // namespace saggar
