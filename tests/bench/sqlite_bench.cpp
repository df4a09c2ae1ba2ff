#include <sqlite3.h>

#include <memory>
#include <stdexcept>
#include <unordered_map>

#include "kg/model/key.h"
#include "tests/bench/measure.h"
#include "tests/bench/measurements.h"
#include "tests/bench/synthetic.h"

namespace saggar::bench {

namespace {

void check(int code, sqlite3* db) {
    if (code != SQLITE_OK && code != SQLITE_DONE && code != SQLITE_ROW) throw std::runtime_error(sqlite3_errmsg(db));
}

class Statement {
public:
    Statement(sqlite3* db, const char* sql) : db_(db) { check(sqlite3_prepare_v2(db, sql, -1, &statement_, nullptr), db); }
    ~Statement() { sqlite3_finalize(statement_); }
    Statement(const Statement&) = delete;
    Statement& operator=(const Statement&) = delete;
    Statement& set(int at, std::int64_t number) {
        check(sqlite3_bind_int64(statement_, at, number), db_);
        return *this;
    }
    Statement& set(int at, std::string_view text) {
        check(sqlite3_bind_text(statement_, at, text.data(), static_cast<int>(text.size()), SQLITE_TRANSIENT), db_);
        return *this;
    }
    Statement& set(int at, const ContentId& id) {
        check(sqlite3_bind_blob(statement_, at, id.bytes.data(), 16, SQLITE_TRANSIENT), db_);
        return *this;
    }
    void run() {
        check(sqlite3_step(statement_), db_);
        check(sqlite3_reset(statement_), db_);
    }

private:
    sqlite3* db_;
    sqlite3_stmt* statement_ = nullptr;
};

// Puts records as a careful user of SQLite would: numbers for keys, prepared statements, words for search.
class Loader : WordVisitor {
public:
    explicit Loader(sqlite3* db)
        : entity_(db, "insert into entity values (?,?,?)"),
          source_(db, "insert into source values (?,?,?)"),
          claim_(db, "insert into claim values (?,?,?,?,?,?,?,?)"),
          evidence_(db, "insert into evidence values (?,?,?,?,?,?,?,?)"),
          word_(db, "insert into word values (?,?,?)") {}

    void put(const Entity& entity) {
        const std::int64_t id = number(entity.key);
        entity_.set(1, id).set(2, entity.key).set(3, entity.label.text).run();
        words(entity.label.text, id, 0);
    }
    void put(const Source& source) {
        const std::int64_t id = number(source.key);
        entity_.set(1, id).set(2, source.key).set(3, source.title).run();
        source_.set(1, id).set(2, source.title).set(3, source.type).run();
        words(source.title, id, 0);
    }
    void put(const Claim& claim) {
        const ContentId id = id_of(claim);
        const auto made = claims_.emplace(id, static_cast<std::int64_t>(claims_.size()) + 1);
        if (!made.second) return;
        const bool linked = claim.object.type == Value::Type::entity;
        claim_.set(1, made.first->second).set(2, id).set(3, number(claim.subject)).set(4, relation(claim.relation));
        claim_.set(5, linked ? number(claim.object.text) : 0).set(6, static_cast<std::int64_t>(claim.object.type));
        claim_.set(7, linked ? std::string_view() : claim.object.text).set(8, claim.object.unit).run();
        if (claim.object.type == Value::Type::text) words(claim.object.text, 0, made.first->second);
    }
    void put(const Evidence& evidence) {
        const ContentId id = id_of(evidence);
        const std::int64_t claim = claims_.at(evidence.claim);
        if (!readings_.emplace(id, claim).second) return;
        evidence_.set(1, claim).set(2, id).set(3, number(evidence.source)).set(4, evidence.stance == Stance::against);
        evidence_.set(5, evidence.at).set(6, evidence.quote).set(7, evidence.certainty).set(8, evidence.recorded_by).run();
        words(evidence.quote, 0, claim);
    }

private:
    std::int64_t number(const std::string& key) { return keys_.emplace(key, static_cast<std::int64_t>(keys_.size()) + 1).first->second; }
    std::int64_t relation(const std::string& name) {
        return relations_.emplace(name, static_cast<std::int64_t>(relations_.size()) + 1).first->second;
    }
    void words(const std::string& text, std::int64_t entity, std::int64_t claim) {
        entity_now_ = entity;
        claim_now_ = claim;
        each_word(text, *this);
    }
    void word(std::string_view folded, std::size_t) override { word_.set(1, folded).set(2, entity_now_).set(3, claim_now_).run(); }

    Statement entity_, source_, claim_, evidence_, word_;
    std::unordered_map<std::string, std::int64_t> keys_, relations_;
    std::unordered_map<ContentId, std::int64_t> claims_, readings_;
    std::int64_t entity_now_ = 0, claim_now_ = 0;
};

}  // namespace

Numbers sqlite(std::uint64_t claims, const std::filesystem::path& scratch) {
    std::filesystem::create_directories(scratch);
    sqlite3* opened = nullptr;
    check(sqlite3_open((scratch / "graph.sqlite").c_str(), &opened), opened);
    const std::unique_ptr<sqlite3, int (*)(sqlite3*)> db(opened, sqlite3_close);
    const auto run = [&](const char* sql) { check(sqlite3_exec(db.get(), sql, nullptr, nullptr, nullptr), db.get()); };
    const Stopwatch watch;
    run("pragma journal_mode=off; pragma synchronous=off; pragma cache_size=-131072;"
        "create table entity (id integer primary key, key text, label text);"
        "create table source (id integer primary key, title text, type text);"
        "create table claim (id integer primary key, content blob, subject integer, relation integer, object integer,"
        "  type integer, text text, unit text);"
        "create table evidence (claim integer, content blob, source integer, stance integer, at text, quote text,"
        "  certainty text, recorded_by text);"
        "create table word (word text, entity integer, claim integer);"
        "begin");
    {
        Loader loader(db.get());
        make_graph(claims, graph_seed, [&](const auto& record) { loader.put(record); });
    }
    run("create unique index entity_key on entity (key);"
        "create index claim_subject on claim (subject, relation);"
        "create index claim_object on claim (object);"
        "create unique index claim_content on claim (content);"
        "create index evidence_claim on evidence (claim);"
        "create index evidence_source on evidence (source);"
        "create unique index evidence_content on evidence (content);"
        "create index word_word on word (word);"
        "commit");
    return {{"seconds", watch.seconds()}, {"processor_seconds", processor_seconds()}, {"peak_mib", peak_mib()}};
}

}  // namespace saggar::bench
