#include "app/graph_sink.h"

namespace saggar::app {
namespace {

constexpr std::uint64_t progress_every = 1 << 15;

}  // namespace

GraphSink::~GraphSink() {
    if (progress_ && count_ >= progress_every) *progress_ << "\r\x1b[K" << std::flush;
}

void GraphSink::refuse(const Fault& fault, const Origin& origin) {
    problems_.add({"graph-refused", Severity::error, origin.place_of(""), fault.what(), fault.next_step()});
}

void GraphSink::put(Record record, const Origin& origin) {
    const Source* const source = std::get_if<Source>(&record);
    const std::string wrong = source && objection ? objection(*source) : std::string();
    if (!wrong.empty()) {
        problems_.add({"copied-in-a-circle", Severity::error, origin.place_of("copied_from"), wrong,
                       "leave out the copying that is least sure"});
        return;
    }
    try {
        if (replay_ && std::holds_alternative<Entity>(record)) {
            change_.replace(std::get<Entity>(record));
        } else if (replay_ && std::holds_alternative<Source>(record)) {
            change_.replace(std::get<Source>(record));
        } else {
            const bool added = change_.put(record) == Put::added;
            if (added && on_new_claim && std::holds_alternative<Claim>(record)) on_new_claim(std::get<Claim>(record));
        }
    } catch (const UsageFault& fault) {
        refuse(fault, origin);
    }
    if (progress_ && ++count_ % progress_every == 0) *progress_ << '\r' << count_ << " records" << std::flush;
}

void GraphSink::begin_entry(EntryHeader entry, const Origin& origin) {
    if (!replay_ || problems_.any_error()) return;
    ChangeHead head;
    head.time = std::move(entry.time);
    head.author = std::move(entry.author);
    head.verb = std::move(entry.verb);
    head.reason = std::move(entry.reason);
    try {
        change_.begin_entry(head, entry.number);
    } catch (const UsageFault& fault) {
        refuse(fault, origin);
    }
}

void GraphSink::document(DocumentLine line, const Origin&) {
    if (replay_ && !problems_.any_error()) change_.put_document(line.name, line.text);
}

}  // namespace saggar::app
