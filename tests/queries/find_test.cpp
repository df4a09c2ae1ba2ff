#include "queries/find.h"

#include <catch2/catch.hpp>

#include "kg/model/fault.h"
#include "kg/store/store.h"
#include "tests/kg/store/temporary_folder.h"

using namespace saggar;

namespace {

class WordGraph {
public:
    WordGraph() : store_(Store::create(folder_.path() / "g", {"", "", "t", "2026-01-01T00:00:00Z"})) {}
    template <class Fill>
    void change(Fill fill) {
        ChangeHead head;
        head.verb = "load";
        head.time = "2026-01-02T00:00:00Z";
        Change change = store_.begin(head);
        fill(change);
        change.commit();
        graph_ = store_.snapshot();
    }
    void label(const std::vector<std::pair<std::string, std::string>>& things) {
        change([&](Change& change) {
            for (const auto& [key, text] : things) {
                Entity one;
                one.key = key;
                one.label.text = text;
                change.put(one);
            }
        });
    }
    std::string keys(const std::string& words, FindOptions options = {}) const {
        std::string out;
        for (const FindHit& hit : find(*graph_, words, options).hits) out += (out.empty() ? "" : " ") + graph_->key_of(hit.entity);
        return out;
    }
    const Snapshot& graph() const { return *graph_; }
    Store& store() { return store_; }

private:
    testing::TemporaryFolder folder_;
    Store store_;
    std::unique_ptr<Snapshot> graph_;
};

}  // namespace

TEST_CASE("words are found across scripts, marks, ligatures and capitals", "[find]") {
    WordGraph graph;
    graph.label({{"shape:greek", "Ἀθηνᾶ"}, {"shape:cyr", "Фарфоровый завод"}, {"shape:cjk", "染付の日本陶器"}, {"shape:kana", "ノリタケ"},
                 {"shape:tr", "İstanbul ısı"}, {"shape:lig", "ﬁne œuvre straße"}, {"shape:pl", "Włocławek"}, {"shape:da", "København"},
                 {"shape:comb", "Cafe\u0301"}, {"shape:soft", "co\u00adoperative"}, {"shape:he", "בֵּית"}, {"shape:hi", "मिट्टी"}, {"shape:is", "Þór"}});
    for (const auto& [words, key] : std::vector<std::pair<std::string, std::string>>{
             {"αθηνα", "shape:greek"}, {"ΑΘΗΝΑ", "shape:greek"}, {"ФАРФОР", "shape:cyr"}, {"завод", "shape:cyr"}, {"陶器", "shape:cjk"}, {"日本", "shape:cjk"},
             {"染", "shape:cjk"}, {"ﾉﾘﾀｹ", "shape:kana"}, {"istanbul", "shape:tr"}, {"ISTANBUL", "shape:tr"}, {"isi", "shape:tr"}, {"fine", "shape:lig"},
             {"oeuvre", "shape:lig"}, {"STRASSE", "shape:lig"}, {"wloclawek", "shape:pl"}, {"WŁOCŁAWEK", "shape:pl"}, {"kobenhavn", "shape:da"},
             {"café", "shape:comb"}, {"cafe", "shape:comb"}, {"cooperative", "shape:soft"}, {"בית", "shape:he"}, {"मिट्टी", "shape:hi"}, {"thor", "shape:is"}}) {
        INFO(words);
        CHECK(graph.keys(words) == key);
        CHECK(find(graph.graph(), words).taken.empty());  // none of them by guessing
    }
}

TEST_CASE("numbers are found as they are written, and never guessed at", "[find]") {
    WordGraph graph;
    graph.label({{"treatment:a", "A.123"}, {"treatment:b", "A 1234"}, {"treatment:c", "No. 2/40"}, {"treatment:d", "B77"}, {"shape:y", "1931-34"}});
    CHECK(graph.keys("A.123") == "treatment:a treatment:b");  // the number itself before one it begins
    CHECK(graph.keys("a-123") == "treatment:a treatment:b");
    CHECK(graph.keys("A123") == "treatment:a treatment:b");
    CHECK(find(graph.graph(), "A123").taken == std::vector<std::string>{"a123 read as a 123"});
    CHECK(graph.keys("B.77") == "treatment:d");
    CHECK(graph.keys("b 77") == "treatment:d");
    CHECK(graph.keys("no 2/40") == "treatment:c");
    CHECK(graph.keys("2/40") == "treatment:c");
    CHECK(graph.keys("1931") == "shape:y");
    for (const char* const other : {"A.124", "1932", "3/40", "2/41", "B78", "9"}) CHECK(graph.keys(other).empty());
}

TEST_CASE("compounds are found joined and parted; near words where nothing stands", "[find]") {
    WordGraph graph;
    graph.label({{"shape:deco", "Art-Déco"}, {"shape:known", "well known"}, {"maker:on", "O’Neill"}, {"shape:lantern", "Lantern"}, {"shape:bluebell", "Bluebell"}});
    CHECK(graph.keys("artdeco") == "shape:deco");
    CHECK(graph.keys("blue-bell") == "shape:bluebell");
    CHECK(graph.keys("blue bell") == "shape:bluebell");
    CHECK(graph.keys("wellknown") == "shape:known");
    CHECK(graph.keys("o'neill") == "maker:on");
    CHECK(graph.keys("lanterm") == "shape:lantern");
    CHECK(graph.keys("lnatern") == "shape:lantern");  // neighbours swapped
    CHECK(graph.keys("knwon") == "shape:known");
    CHECK(graph.keys("la") == "shape:lantern");
    CHECK(graph.keys("xa").empty());  // too short to guess at
    CHECK_THROWS_AS(find(graph.graph(), "& —"), UsageFault);
    CHECK_THROWS_AS(find(graph.graph(), ""), UsageFault);
}

TEST_CASE("very long words are found by their beginning and whole", "[find]") {
    const std::string word = "Donaudampfschifffahrtselektrizitätenhauptbetriebswerkbauunterbeamtengesellschaft";
    WordGraph graph;
    graph.label({{"company:d", word}});
    CHECK(graph.keys(word) == "company:d");
    CHECK(graph.keys("donaudampf") == "company:d");
    CHECK(graph.keys(std::string(5000, 'q')).empty());
}

TEST_CASE("the best come first, filtered by kind and source, private ones and former words left out", "[find]") {
    WordGraph graph;
    graph.label({{"shape:lantern", "Lantern"}, {"line:lanterns", "Lanterns"}, {"piece:1", "Jug"}});
    Evidence reading;
    graph.change([&](Change& change) {
        Claim claim{"piece:1", "instance-of", {Value::Type::entity, "shape:lantern", ""}, "", "", false};
        change.put(claim);
        reading.claim = id_of(claim);
        reading.source = "source:card";
        reading.quote = "a lantern jug";
        change.put(reading);
        Entity hidden;
        hidden.key = "person:x";
        hidden.label.text = "Lantern Person";
        hidden.is_private = true;
        change.put(hidden);
    });
    FindOptions open;
    open.with_private = false;
    CHECK(graph.keys("lantern", open) == "shape:lantern line:lanterns piece:1");
    CHECK(graph.keys("lantern").find("person:x") != std::string::npos);
    FindOptions only = open;
    only.kind = "piece";
    CHECK(graph.keys("lantern", only) == "piece:1");
    only.kind = "";
    only.source = "source:card";
    CHECK(graph.keys("lantern", only) == "piece:1");
    CHECK(find(graph.graph(), "lantern", only).hits.at(0).snippet == "a lantern jug");
    CHECK(graph.keys("jug lantern", open) == "piece:1");  // two places of one thing
    graph.change([&](Change& change) { change.put(Withdrawal{id_of(reading), "misread"}); });
    CHECK(graph.keys("lantern", open) == "shape:lantern line:lanterns");
    const auto before = graph.store().snapshot(3);
    CHECK(find(*before, "lantern", open).hits.size() == 3);
    graph.label({{"shape:lantern", "Fathom"}});
    CHECK(graph.keys("lantern", open) == "line:lanterns");
    CHECK(find(*before, "lantern", open).hits.size() == 3);
}

TEST_CASE("of very many candidates the best are read, and that there are more is said", "[find]") {
    WordGraph graph;
    std::vector<std::pair<std::string, std::string>> things;
    for (int i = 0; i < 20'500; ++i) things.emplace_back("piece:p-" + std::to_string(i), "abc " + std::to_string(i));
    for (int i = 0; i < 5; ++i) things.emplace_back("shape:s-" + std::to_string(i), "A");
    graph.label(things);
    const FindAnswer answer = find(graph.graph(), "a");
    REQUIRE(answer.hits.size() == 20);
    CHECK(answer.more_unread);
    for (std::size_t i = 0; i < 20; ++i) CHECK((graph.graph().kind_of(answer.hits[i].entity) == "shape") == (i < 5));
    FindOptions shapes;
    shapes.kind = "shape";
    const FindAnswer few = find(graph.graph(), "a", shapes);
    CHECK(few.found == 5);
    CHECK_FALSE(few.more_unread);
    const FindAnswer some = find(graph.graph(), "abc 77");
    CHECK(some.hits.at(0).score > some.hits.at(1).score);  // 77 before 770
    CHECK_FALSE(some.more_unread);
}
