// The table of cases with known answers: each a few small tables, loaded and asked through the command, at the precision the
// source prints. "Derived" means worked out by hand from the definitions, independently of the code.
#include <fmt/format.h>

#include "kg/weigh/profile.h"
#include "tests/app/table_graph.h"

using namespace saggar;
using testing::TableGraph;

namespace {

struct Expected {
    std::vector<std::string> question;
    std::string path;
    double value;
    double half_digit;
};

struct KnownCase {
    const char* name;
    const char* published;  // where the figure stands
    std::vector<std::string> tables;
    std::vector<Expected> expected;
    const char* circle = nullptr;  // dependence within a circle, in place of the profile's
};

constexpr const char* the_blue = "shape:it treated-with treatment:blue";
constexpr const char* by_a = "shape:it modelled-by person:a";
constexpr const char* by_b = "shape:it modelled-by person:b";
constexpr const char* by_c = "shape:it modelled-by person:c";
constexpr const char* tureen = "shape:it comprises article:tureen";

std::vector<std::string> weigh(const std::string& claim) { return {"weigh", claim}; }
std::vector<std::string> along(const std::string& from, const std::string& to) {
    return {"trace", "item:" + from, "--to", "item:" + to, "--via", "replaced-by+", "--best", "50"};
}
std::vector<std::string> both_ways(const std::string& from, const std::string& to) {
    return {"trace", "item:" + from, "--to", "item:" + to, "--via", "(replaced-by|^replaced-by)+", "--best", "50"};
}

// One witness for each link "FROM-TO CHANCE".
std::vector<std::string> network(const std::vector<std::tuple<std::string, std::string, std::string>>& links) {
    std::string sources = "key,reliability\n", claims = "subject,relation,object,source\n";
    for (const auto& [from, to, chance] : links) {
        sources += from + "-" + to + "," + chance + "\n";
        claims += "item:" + from + ",replaced-by,item:" + to + "," + from + "-" + to + "\n";
    }
    return {sources, claims};
}

std::string rumours(int count) {
    std::string sources = "key,reliability,family,family_kind\n";
    for (int i = 0; i < count; ++i) sources += fmt::format("rumour-{},.3,talk,circle\n", i);
    return sources;
}
std::string told(int count, const std::string& claim) {
    std::string rows = "subject,relation,object,source\n";
    for (int i = 0; i < count; ++i) rows += fmt::format("{},rumour-{}\n", claim, i);
    return rows;
}

const std::vector<std::tuple<std::string, std::string, std::string>> bridge = {
    {"s", "a", ".9"}, {"s", "b", ".9"}, {"a", "b", ".9"}, {"a", "t", ".9"}, {"b", "t", ".9"}};
const std::vector<std::tuple<std::string, std::string, std::string>> seven_links = {
    {"1", "2", ".6"}, {"1", "3", ".1"}, {"2", "5", ".4"}, {"2", "6", ".3"},
    {"3", "4", ".3"}, {"4", "5", ".8"}, {"5", "6", ".2"}};
const std::vector<std::tuple<std::string, std::string, std::string>> six_links = {
    {"a", "b", ".2"}, {"b", "e", ".5"}, {"a", "c", ".3"}, {"c", "d", ".4"}, {"d", "e", ".4"}, {"a", "e", ".1"}};

std::string five_contested_links(bool claims) {
    std::string rows = claims ? "subject,relation,object,stance,source\n" : "key,reliability\n";
    for (int i = 0; i < 5; ++i) {
        rows += claims
                    ? fmt::format(
                          "item:{0},replaced-by,item:{1},for,yes-{0}\nitem:{0},replaced-by,item:{1},against,no-{0}\n",
                          i, i + 1)
                    : fmt::format("yes-{0},.9\nno-{0},.3\n", i);
    }
    return rows;
}

const std::vector<KnownCase>& known_cases() {
    static const std::vector<KnownCase> cases = {
        {"two flatly opposed witnesses of .9",
         "Shafer, Perspectives on the theory and practice of belief functions (1990)",
         {"key,reliability\nbetty,.9\nsally,.9\n",
          "subject,relation,object,stance,source\nshape:it,treated-with,treatment:blue,for,betty\nshape:it,treated-"
          "with,treatment:blue,against,sally\n"},
         {{weigh(the_blue), "/support", .4737, 5e-5},
          {weigh(the_blue), "1 - /possibility", .4737, 5e-5},
          {weigh(the_blue), "/possibility - /support", .0526, 5e-5},
          {weigh(the_blue), "/both", .81, 5e-3}}},
        // Each expert names one disease (.99 of his mass) and, failing that, another: a statement that the first takes back.
        {"two experts with one small thing in common, at the cap .95",
         "Zadeh, Review of Shafer's A mathematical theory of evidence (1984), discounted to .95",
         {"key,reliability,dependence\none,.95,1\ntwo,.95,1\n",
          "subject,relation,object,source,at,certainty,corrects\n"
          "shape:it,modelled-by,person:b,one,failing that,,\nshape:it,modelled-by,person:a,one,first,.995,failing "
          "that\n"
          "shape:it,modelled-by,person:b,two,failing that,,\nshape:it,modelled-by,person:c,two,first,.995,failing "
          "that\n"},
         {{weigh(by_a), "/support", .482, 5e-4},
          {weigh(by_c), "/support", .482, 5e-4},
          {weigh(by_b), "/support", .011, 5e-4},
          {weigh(by_b), "/both", .902, 5e-4}}},
        {"the bridge of five links",
         "Barlow and Proschan, Statistical theory of reliability and life testing (1975)",
         network(bridge),
         {{both_ways("s", "t"), "/joint/raw", .97848, 5e-6},
          {both_ways("s", "t"), "/joint/conditioned", .97848, 5e-6}}},
        {"the slopes of the bridge",
         "Birnbaum, On the importance of different components in a multicomponent system (1969)",
         network(bridge),
         {{both_ways("s", "t"), "/joint/influence/source=source:s-a/slope", .1062, 5e-5},
          {both_ways("s", "t"), "/joint/influence/source=source:b-t/slope", .1062, 5e-5},
          {both_ways("s", "t"), "/joint/influence/source=source:a-b/slope", .0162, 5e-5}}},
        {"a directed graph of seven links",
         "ProbLog tutorial and test suite: path(1,5), path(1,6)",
         network(seven_links),
         {{along("1", "5"), "/joint/raw", .25824, 5e-6}, {along("1", "6"), "/joint/raw", .2167296, 5e-8}}},
        {"a directed graph of six links",
         "cplint, example path: path(a,e)",
         network(six_links),
         {{along("a", "e"), "/joint/raw", .22888, 5e-6}}},
        {"ten readings of .3, one family, dependence 0",
         "derived: 1 - .7^10",
         {rumours(10), told(10, "shape:it,treated-with,treatment:blue")},
         {{weigh(the_blue), "/support", .972, 5e-4}},
         "0.0"},
        {"ten readings of .3, one family, dependence .5",
         "derived: .65 (1 - (1 - .3/.65)^10)",
         {rumours(10), told(10, "shape:it,treated-with,treatment:blue")},
         {{weigh(the_blue), "/support", .649, 5e-4}},
         "0.5"},
        {"ten readings of .3, one family, dependence 5/7",
         "derived: .5 (1 - .4^10)",
         {rumours(10), told(10, "shape:it,treated-with,treatment:blue")},
         {{weigh(the_blue), "/support", .500, 5e-4}},
         "0.7142857142857143"},
        {"ten readings of .3, one family, dependence 1",
         "derived",
         {rumours(10), told(10, "shape:it,treated-with,treatment:blue")},
         {{weigh(the_blue), "/support", .300, 5e-4}},
         "1.0"},
        {"eight rumours against a works ledger",
         "derived",
         {rumours(8), told(8, "shape:it,modelled-by,person:a"), "key,type,reliability\nledger,ledger,.9\n",
          "subject,relation,object,source\nshape:it,modelled-by,person:b,ledger\n"},
         {{weigh(by_a), "/support", .091, 5e-4},
          {weigh(by_a), "/both", .450, 5e-4},
          {weigh(by_b), "/support", .818, 5e-4}},
         "0.7142857142857143"},
        {"a notice, and three books that copy it",
         "derived",
         {"key,reliability,copied_from\nnotice,.8,\nbook-1,.7,source:notice\nbook-2,.7,source:notice\nbook-3,.7,source:"
          "notice\n",
          "subject,relation,object,source\nshape:it,treated-with,treatment:blue,notice\nshape:it,treated-with,"
          "treatment:blue,book-1\n"
          "shape:it,treated-with,treatment:blue,book-2\nshape:it,treated-with,treatment:blue,book-3\n"},
         {{weigh(the_blue), "/support", .8, 5e-4}, {weigh(the_blue), "/roots_for", 1, 0}}},
        {"a recollection, and a complete list that leaves the thing out",
         "derived",
         {"key,reliability\nrecollection,.5\nlist,.9\n",
          "subject,relation,object,stance,source,completeness\nshape:it,comprises,article:tureen,for,recollection,"
          "\nshape:it,comprises,*,lists-all,list,.9\n"},
         {{weigh(tureen), "/support", .160, 5e-4},
          {weigh(tureen), "/possibility", .319, 5e-4},
          {weigh(tureen), "/both", .405, 5e-4}}},
        {"a letter that believes, against a ledger for a rival",
         "derived",
         {"key,reliability\nletter,.8\nledger,.85\n",
          "subject,relation,object,source,certainty\nshape:it,modelled-by,person:a,letter,I "
          "believe\nshape:it,modelled-by,person:b,ledger,\n"},
         {{weigh(by_a), "/support", .091, 5e-4},
          {weigh(by_b), "/support", .773, 5e-4},
          {weigh(by_a), "/both", .340, 5e-4}}},
        {"another entry of the same handbook is contradicted",
         "derived",
         {"key,reliability\nhandbook,.8\nother,.95\n",
          "subject,relation,object,stance,source\nshape:it,treated-with,treatment:blue,for,handbook\n"
          "shape:it,treated-with,treatment:green,for,handbook\nshape:it,treated-with,treatment:green,against,other\n"},
         {{weigh(the_blue), "/support", .8, 5e-4}, {weigh(the_blue), "/both", 0, 0}}},
        {"a chain of five contested links",
         "derived",
         {five_contested_links(false), five_contested_links(true)},
         {{along("0", "5"), "/joint/raw", .590, 5e-4},
          {along("0", "5"), "/joint/conditioned", .479, 5e-4},
          {along("0", "5"), "/joint/uncontested", .099, 5e-4},
          {along("0", "5"), "/joint/worst/both", .27, 5e-3}}},
        {"a dealer, and the base rate beside",
         "derived",
         {"key,reliability\ndealer,.8\n", "subject,relation,object,source\npiece:1,made-by,maker:skerrow,dealer\n"},
         {{{"weigh", "piece:1 made-by maker:skerrow", "--base-rate", ".005"}, "/support", .8, 5e-4},
          {{"weigh", "piece:1 made-by maker:skerrow", "--base-rate", ".005"}, "/betting_figure", .0245, 5e-5}}},
        {"three guides, copying not known",
         "derived",
         {"key,reliability,family\nguide-1,.6,guides\nguide-2,.6,guides\nguide-3,.6,guides\n",
          "subject,relation,object,source\nshape:it,treated-with,treatment:blue,guide-1\nshape:it,treated-with,"
          "treatment:blue,guide-2\n"
          "shape:it,treated-with,treatment:blue,guide-3\n"},
         {{weigh(the_blue), "/band/low", .6, 5e-4}, {weigh(the_blue), "/band/high", .936, 5e-4}}},
        {"three guides, copying suspected",
         "derived",
         {"key,reliability,copied_from\nguide-1,.6,\nguide-2,.6,source:guide-1 (chance .7)\nguide-3,.6,source:guide-1 "
          "(chance .7)\n",
          "subject,relation,object,source\nshape:it,treated-with,treatment:blue,guide-1\nshape:it,treated-with,"
          "treatment:blue,guide-2\n"
          "shape:it,treated-with,treatment:blue,guide-3\n"},
         {{weigh(the_blue), "/support", .731, 5e-4}}},
        {"two readings of one source",
         "derived: dependence .5 within a source",
         {"key,reliability\nbook,.8\n",
          "subject,relation,object,source\nshape:it,treated-with,treatment:blue,book\nshape:it,treated-with,treatment:"
          "green,book\n"},
         {{{"weigh", the_blue, "shape:it treated-with treatment:green", "--all"}, "/raw", .711, 5e-4},
          {{"weigh", the_blue, "shape:it treated-with treatment:green", "--any"}, "/raw", .889, 5e-4}}},
    };
    return cases;
}

std::string profile_with_circle(const char* dependence) {
    if (!dependence) return "";
    const std::string usual = "\"same circle\", \"dependence\": ";
    std::string document = Profile::standard().document();
    const auto at = document.find(usual);
    REQUIRE(at != std::string::npos);
    const auto begin = at + usual.size();
    return document.replace(begin, document.find('}', begin) - begin, dependence);
}

}  // namespace

TEST_CASE("tables loaded and asked through the command give the known figures", "[known]") {
    for (const KnownCase& known : known_cases()) {
        INFO(known.name << " (" << known.published << ")");
        TableGraph graph(profile_with_circle(known.circle));
        for (const std::string& table : known.tables) graph.load(table);
        for (const Expected& expected : known.expected) {
            INFO(expected.path);
            CHECK(testing::number_at(graph.ask(expected.question), expected.path) ==
                  Approx(expected.value).margin(expected.half_digit + 1e-12));
        }
    }
}

TEST_CASE("an author corrects himself in a later edition, through the command", "[known]") {
    // Derived: old .8 (1 - .85) = .120, new .850, no contradiction. The later statement names the evidence it takes back.
    TableGraph graph;
    graph.load("key,reliability,author\nfirst-edition,.8,Hale\nsecond-edition,.85,Hale\n");
    graph.load("subject,relation,object,source\nshape:it,modelled-by,person:a,first-edition\n");
    const std::string old_reading = graph.ask(weigh(by_a)).at("readings").at(0).at("record");
    graph.load("subject,relation,object,source,corrects\nshape:it,modelled-by,person:b,second-edition," + old_reading +
               "\n");
    CHECK(graph.ask(weigh(by_a)).at("support").get<double>() == Approx(.120).margin(5e-4));
    CHECK(graph.ask(weigh(by_b)).at("support").get<double>() == Approx(.850).margin(5e-4));
    CHECK(graph.ask(weigh(by_a)).at("both").get<double>() == Approx(0).margin(1e-12));
}
