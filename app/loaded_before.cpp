#include "app/loaded_before.h"

#include <sodium.h>

#include <algorithm>
#include <cstdio>

#include "importers/bag/bag_check.h"
#include "importers/csvw/read_csvw.h"
#include "kg/model/fault.h"
#include "kg/store/ledger.h"

namespace saggar::app {
namespace {

class LoadDigest {
public:
    LoadDigest() { crypto_generichash_init(&state_, nullptr, 0, id_.bytes.size()); }
    void text(std::string_view part) {
        crypto_generichash_update(&state_, reinterpret_cast<const unsigned char*>(part.data()), part.size());
        const unsigned char end = 0;
        crypto_generichash_update(&state_, &end, 1);
    }
    void file(const std::filesystem::path& path) {
        std::FILE* in = std::fopen(path.c_str(), "rb");
        if (!in) throw UsageFault("cannot read " + path.string(), "see that the file is there");
        std::string buffer(1 << 20, '\0');
        while (const std::size_t got = std::fread(buffer.data(), 1, buffer.size(), in))
            crypto_generichash_update(&state_, reinterpret_cast<const unsigned char*>(buffer.data()), got);
        std::fclose(in);
        text({});
    }
    ContentId finish() {
        crypto_generichash_final(&state_, id_.bytes.data(), id_.bytes.size());
        return id_;
    }

private:
    crypto_generichash_state state_;
    ContentId id_;
};

class StandingOfRecords final : public LedgerVisitor {
public:
    StandingOfRecords(const Snapshot& graph, EntryStanding& standing) : graph_(graph), standing_(standing) {}
    void entry(const Entry&) override {}
    void document(const std::string&, const std::string&) override {}
    void record(const Record& record) override {
        std::visit([this](const auto& one) { count(one); }, record);
    }

private:
    void count(const Entity&) {}
    void count(const Source&) {}
    void count(const Withdrawal&) {}
    template <class R>
    void count(const R& record) {
        ++(graph_.is_in_force(id_of(record)) ? standing_.standing : standing_.taken_back);
    }

    const Snapshot& graph_;
    EntryStanding& standing_;
};

}  // namespace

std::optional<ContentId> load_digest(const std::filesystem::path& path, const ReadOptions& options) {
    LoadDigest digest;
    if (!std::filesystem::is_directory(path)) {
        digest.file(path);
    } else if (is_bag(path)) {
        for (const char* const name : {"manifest-sha256.txt", "manifest-sha512.txt"})
            if (std::filesystem::is_regular_file(path / name)) digest.file(path / name);
    } else {
        return std::nullopt;
    }
    // Metadata beside a table counts as if it were named.
    const std::filesystem::path map = options.map.empty() ? csvw::find_metadata(path) : options.map;
    if (!map.empty()) digest.file(map);
    digest.text(options.source);
    digest.text(options.format ? format_name(*options.format) : std::string_view());
    return digest.finish();
}

EntryStanding entry_standing(const Snapshot& graph, std::uint64_t entry) {
    EntryStanding standing;
    const std::vector<Entry> later = graph.history(entry + 1, graph.entry());
    if (std::none_of(later.begin(), later.end(), [](const Entry& one) { return one.counts.withdrawals != 0; })) return standing;
    StandingOfRecords visitor(graph, standing);
    read_ledger(graph, entry, entry, visitor);
    return standing;
}

}  // namespace saggar::app
