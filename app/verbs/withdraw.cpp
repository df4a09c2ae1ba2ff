#include <fmt/format.h>

#include <algorithm>
#include <charconv>

#include "app/json_out.h"
#include "app/session.h"
#include "app/verbs/verbs.h"
#include "kg/model/fault.h"
#include "kg/store/undo.h"
#include "queries/privacy.h"

namespace saggar::app {
namespace {

std::uint64_t entry_number(const Store& store, const std::string& text) {
    std::uint64_t number = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
    if (error != std::errc() || end != text.data() + text.size() || number == 0 || number > store.last_entry())
        throw UsageFault("there is no entry " + text, fmt::format("the history runs from 1 to {}", store.last_entry()));
    return number;
}

// "12" or "12..19".
std::pair<std::uint64_t, std::uint64_t> entries_named(const Store& store, const std::string& text) {
    const std::size_t dots = text.find("..");
    if (dots == std::string::npos) {
        const std::uint64_t one = entry_number(store, text);
        return {one, one};
    }
    return {entry_number(store, text.substr(0, dots)), entry_number(store, text.substr(dots + 2))};
}

// Documents are no records: an earlier one is loaded anew. How; empty where the entries changed none.
std::string documents_stay(const Store& store, std::uint64_t from, std::uint64_t to) {
    if (from <= 1) return {};
    const auto before = store.snapshot(from - 1), after = store.snapshot(to);
    std::string words;
    const auto tell = [&](const char* name, bool changed) {
        if (changed)
            words += fmt::format("    the {0} they brought still holds; to have the earlier one back:\n"
                                 "      saggar {0} show --as-of {1} > earlier.json; saggar {0} load earlier.json\n",
                                 name, from - 1);
    };
    tell("vocabulary", before->vocabulary_text() != after->vocabulary_text());
    tell("profile", before->profile_text() != after->profile_text());
    return words;
}

int withdraw_entries(Call& call, Store& store) {
    const auto [from, to] = entries_named(store, call.get("--entry"));
    const std::string documents = documents_stay(store, from, to);
    Change change = store.begin(change_head(call, store, "withdraw", call.get("--reason")));
    const Undone undone = undo_entries(store, change, from, to, call.get("--reason"));
    if (!undone.anything()) {
        throw UsageFault("entry " + call.get("--entry") + " put nothing that can be withdrawn",
                         documents.empty() ? "see `saggar history`"
                                           : fmt::format("to have an earlier vocabulary or profile back, load it: saggar vocabulary show "
                                                         "--as-of {} > earlier.json; saggar vocabulary load earlier.json", from - 1));
    }
    const Entry entry = change.commit();
    if (call.json) {
        print(*call.out, {{"entry", entry.number}, {"withdrawn", undone.withdrawn}, {"already_withdrawn", undone.already},
                          {"put_again", undone.put_again}, {"described_as_before", undone.described_as_before}});
        return fine;
    }
    *call.out << fmt::format("entry {}: {} withdrawn", entry.number, undone.withdrawn);
    if (undone.already) *call.out << fmt::format(" ({} were before)", undone.already);
    if (undone.put_again) *call.out << fmt::format(", {} put again", undone.put_again);
    if (undone.described_as_before) *call.out << fmt::format(", {} described as before", undone.described_as_before);
    *call.out << '\n' << documents;
    return fine;
}

int run_withdraw(Call& call) {
    Store store = open_to_write(call);
    if (call.get("--reason").empty()) throw UsageFault("a withdrawal needs its reason", "say it with --reason \"…\"");
    if (call.has("--entry")) return withdraw_entries(call, store);
    std::vector<ContentId> ids;
    const auto graph = store.snapshot();
    for (const std::string& text : call.all("ID")) {
        ids.push_back(text.find(' ') == std::string::npos ? graph->need_id(text) : graph->content_of(need_claim(*graph, text)));
    }
    if (ids.empty())
        throw UsageFault("there is nothing to withdraw", "name a record by its id, or a whole load with --entry N");
    Privacy open(*graph, false);
    const bool hide = std::all_of(ids.begin(), ids.end(), [&](const ContentId& id) { return !open.may_tell(id); });
    Change change = store.begin(change_head(call, store, "withdraw", hide ? "private" : call.get("--reason")));
    for (const ContentId& id : ids) change.put(Withdrawal{id, call.get("--reason")});
    const Entry entry = change.commit();
    if (call.json) {
        print(*call.out, {{"entry", entry.number}, {"withdrawn", entry.counts.withdrawals}, {"already_withdrawn", 0}});
    } else {
        *call.out << fmt::format("entry {}: {} withdrawn\n", entry.number, entry.counts.withdrawals);
    }
    return fine;
}

}  // namespace

Verb withdraw_verb() {
    return {"withdraw",
            "take back a claim, a reading, a list, an argument, a ruling, or a whole load or merge",
            {{"ID", "the id of a record, or `subject relation object`", false, true}},
            {{"--entry", "N", "everything that entry N of the history did, or entries N..M"}, {"--reason", "TEXT", "why (required)"}},
            run_withdraw,
            "Nothing is deleted: the record stays in the history with the reason, and earlier states still show it. Taking back an entry "
            "that withdrew something puts that in force again, and descriptions go back to what they were."};
}

}  // namespace saggar::app
