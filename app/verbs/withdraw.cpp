#include <fmt/format.h>

#include <charconv>

#include "app/json_out.h"
#include "app/session.h"
#include "app/verbs/verbs.h"
#include "kg/model/fault.h"
#include "kg/store/ledger.h"

namespace saggar::app {
namespace {

// Everything with a content id that one entry put and that is still in force.
class PutByEntry : public LedgerVisitor {
public:
    void entry(const Entry&) override {}
    void document(const std::string&, const std::string&) override {}
    void record(const Record& record) override {
        std::visit(
            [this](const auto& one) {
                using One = std::decay_t<decltype(one)>;
                if constexpr (!std::is_same_v<One, Entity> && !std::is_same_v<One, Source> &&
                              !std::is_same_v<One, Withdrawal>)
                    ids.push_back(id_of(one));
            },
            record);
    }
    std::vector<ContentId> ids;
};

std::vector<ContentId> ids_of_entry(const Store& store, const std::string& text) {
    std::uint64_t number = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
    if (error != std::errc() || end != text.data() + text.size() || number == 0 || number > store.last_entry())
        throw UsageFault("there is no entry " + text, fmt::format("the history runs from 1 to {}", store.last_entry()));
    const auto graph = store.snapshot();
    PutByEntry put;
    read_ledger(*graph, number, number, put);
    if (put.ids.empty())
        throw UsageFault("entry " + text + " put nothing that can be withdrawn", "see `saggar history`");
    return put.ids;
}

int run_withdraw(Call& call) {
    Store store = open_to_write(call);
    if (call.get("--reason").empty()) throw UsageFault("a withdrawal needs its reason", "say it with --reason \"…\"");
    std::vector<ContentId> ids;
    const bool whole_entry = call.has("--entry");
    if (whole_entry) {
        ids = ids_of_entry(store, call.get("--entry"));
    } else {
        const auto graph = store.snapshot();
        for (const std::string& text : call.all("ID")) {
            ids.push_back(text.find(' ') == std::string::npos ? graph->need_id(text)
                                                              : graph->content_of(need_claim(*graph, text)));
        }
        if (ids.empty())
            throw UsageFault("there is nothing to withdraw", "name a record by its id, or a whole load with --entry N");
    }
    Change change = store.begin(change_head(call, store, "withdraw", call.get("--reason")));
    std::size_t already = 0;
    for (const ContentId& id : ids) {
        try {
            change.put(Withdrawal{id, call.get("--reason")});
        } catch (const UsageFault&) {
            if (!whole_entry) throw;
            ++already;  // taken back earlier
        }
    }
    const Entry entry = change.commit();
    if (call.json) {
        print(*call.out,
              {{"entry", entry.number}, {"withdrawn", entry.counts.withdrawals}, {"already_withdrawn", already}});
    } else {
        *call.out << fmt::format("entry {}: {} withdrawn\n", entry.number, entry.counts.withdrawals);
    }
    return fine;
}

}  // namespace

Verb withdraw_verb() {
    return {"withdraw",
            "take back a claim, a reading, a list, an argument, a ruling, or a whole load",
            {{"ID", "the id of a record, or `subject relation object`", false, true}},
            {{"--entry", "N", "everything that entry N of the history put"}, {"--reason", "TEXT", "why (required)"}},
            run_withdraw,
            "Nothing is deleted: the record stays in the history with the reason, and earlier states still show it."};
}

}  // namespace saggar::app
