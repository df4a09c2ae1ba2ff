#include "app/outgoing.h"

namespace saggar::app {

Outgoing::Outgoing(const Snapshot& graph, LedgerVisitor& next, bool with_private) : next_(next), with_private_(with_private) {
    if (with_private_) return;
    graph.each_entity([this](EntityId, const Entity& one) { left_out(one); });
    graph.each_source([this](EntityId, const Source& one) { left_out(one); });
}

void Outgoing::record(const Record& record) {
    if (!with_private_ && std::visit([this](const auto& one) { return left_out(one); }, record)) {
        ++left_out_;
        return;
    }
    next_.record(record);
}

bool Outgoing::hide(const ContentId& id) {
    hidden_ids_.insert(id);
    return true;
}

bool Outgoing::left_out(const Entity& one) {
    if (one.is_private) hidden_keys_.insert(one.key);
    return hidden_key(one.key);
}

bool Outgoing::left_out(const Source& one) {
    if (one.is_private) hidden_keys_.insert(one.key);
    return hidden_key(one.key);
}

bool Outgoing::left_out(const Claim& one) {
    const bool named = hidden_key(one.subject) || hidden_key(one.scope) ||
                       (one.object.type == Value::Type::entity && hidden_key(one.object.text));
    return (one.is_private || named) && hide(id_of(one));
}

bool Outgoing::left_out(const Evidence& one) {
    return (one.is_private || hidden_ids_.count(one.claim) || hidden_key(one.source)) && hide(id_of(one));
}

bool Outgoing::left_out(const Listing& one) {
    return (one.is_private || hidden_key(one.source) || hidden_key(one.subject)) && hide(id_of(one));
}

bool Outgoing::left_out(const Argument& one) {
    bool named = hidden_ids_.count(one.conclusion) != 0;
    for (const ContentId& premise : one.premises) named = named || hidden_ids_.count(premise) != 0;
    return (one.is_private || named) && hide(id_of(one));
}

bool Outgoing::left_out(const Ruling& one) {
    return (one.is_private || hidden_ids_.count(one.claim) != 0) && hide(id_of(one));
}

bool Outgoing::left_out(const Withdrawal& one) { return hidden_ids_.count(one.of) != 0; }

}  // namespace saggar::app
