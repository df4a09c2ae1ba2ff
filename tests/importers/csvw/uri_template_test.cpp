#include "importers/csvw/uri_template.h"

#include <catch2/catch.hpp>
#include <map>

using namespace saggar::csvw;

namespace {

// The variables of RFC 6570, section 3.2, without the associative array.
std::optional<TemplateValue> rfc_variable(std::string_view name) {
    static const std::map<std::string, std::string, std::less<>> texts = {{"dom", "example.com"},
                                                                          {"dub", "me/too"},
                                                                          {"hello", "Hello World!"},
                                                                          {"half", "50%"},
                                                                          {"var", "value"},
                                                                          {"who", "fred"},
                                                                          {"base", "http://example.com/home/"},
                                                                          {"path", "/foo/bar"},
                                                                          {"v", "6"},
                                                                          {"x", "1024"},
                                                                          {"y", "768"},
                                                                          {"empty", ""}};
    static const std::map<std::string, std::vector<std::string>, std::less<>> lists = {
        {"count", {"one", "two", "three"}}, {"list", {"red", "green", "blue"}}};
    TemplateValue value;
    if (const auto found = texts.find(name); found != texts.end()) {
        value.texts.emplace_back(found->second);
        return value;
    }
    if (name == "empty_list") {
        value.is_list = true;
        return value;
    }
    if (const auto found = lists.find(name); found != lists.end()) {
        value.is_list = true;
        value.texts.assign(found->second.begin(), found->second.end());
        return value;
    }
    return std::nullopt;
}

}  // namespace

TEST_CASE("the examples of RFC 6570", "[uri_template]") {
    struct Row {
        std::string text, expanded;
    };
    // Sections 3.2.2 to 3.2.9, all rows but those with associative arrays.
    for (const Row& row : std::vector<Row>{{"{var}", "value"},
                                           {"{hello}", "Hello%20World%21"},
                                           {"{half}", "50%25"},
                                           {"O{empty}X", "OX"},
                                           {"O{undef}X", "OX"},
                                           {"{x,y}", "1024,768"},
                                           {"{x,hello,y}", "1024,Hello%20World%21,768"},
                                           {"?{x,empty}", "?1024,"},
                                           {"?{x,undef}", "?1024"},
                                           {"?{undef,y}", "?768"},
                                           {"{var:3}", "val"},
                                           {"{var:30}", "value"},
                                           {"{list}", "red,green,blue"},
                                           {"{list*}", "red,green,blue"},
                                           {"{+var}", "value"},
                                           {"{+hello}", "Hello%20World!"},
                                           {"{+half}", "50%25"},
                                           {"{base}index", "http%3A%2F%2Fexample.com%2Fhome%2Findex"},
                                           {"{+base}index", "http://example.com/home/index"},
                                           {"O{+empty}X", "OX"},
                                           {"O{+undef}X", "OX"},
                                           {"{+path}/here", "/foo/bar/here"},
                                           {"here?ref={+path}", "here?ref=/foo/bar"},
                                           {"up{+path}{var}/here", "up/foo/barvalue/here"},
                                           {"{+x,hello,y}", "1024,Hello%20World!,768"},
                                           {"{+path,x}/here", "/foo/bar,1024/here"},
                                           {"{+path:6}/here", "/foo/b/here"},
                                           {"{+list}", "red,green,blue"},
                                           {"{+list*}", "red,green,blue"},
                                           {"{#var}", "#value"},
                                           {"{#hello}", "#Hello%20World!"},
                                           {"{#half}", "#50%25"},
                                           {"foo{#empty}", "foo#"},
                                           {"foo{#undef}", "foo"},
                                           {"{#x,hello,y}", "#1024,Hello%20World!,768"},
                                           {"{#path,x}/here", "#/foo/bar,1024/here"},
                                           {"{#path:6}/here", "#/foo/b/here"},
                                           {"{#list}", "#red,green,blue"},
                                           {"{.who}", ".fred"},
                                           {"{.who,who}", ".fred.fred"},
                                           {"{.half,who}", ".50%25.fred"},
                                           {"www{.dom}", "www.example.com"},
                                           {"X{.var}", "X.value"},
                                           {"X{.empty}", "X."},
                                           {"X{.undef}", "X"},
                                           {"X{.var:3}", "X.val"},
                                           {"X{.list}", "X.red,green,blue"},
                                           {"X{.list*}", "X.red.green.blue"},
                                           {"X{.empty_list}", "X"},
                                           {"{/who}", "/fred"},
                                           {"{/who,who}", "/fred/fred"},
                                           {"{/half,who}", "/50%25/fred"},
                                           {"{/who,dub}", "/fred/me%2Ftoo"},
                                           {"{/var}", "/value"},
                                           {"{/var,empty}", "/value/"},
                                           {"{/var,undef}", "/value"},
                                           {"{/var,x}/here", "/value/1024/here"},
                                           {"{/var:1,var}", "/v/value"},
                                           {"{/list}", "/red,green,blue"},
                                           {"{/list*}", "/red/green/blue"},
                                           {"{;who}", ";who=fred"},
                                           {"{;half}", ";half=50%25"},
                                           {"{;empty}", ";empty"},
                                           {"{;v,empty,who}", ";v=6;empty;who=fred"},
                                           {"{;v,bar,who}", ";v=6;who=fred"},
                                           {"{;x,y}", ";x=1024;y=768"},
                                           {"{;x,y,undef}", ";x=1024;y=768"},
                                           {"{;hello:5}", ";hello=Hello"},
                                           {"{;list}", ";list=red,green,blue"},
                                           {"{;list*}", ";list=red;list=green;list=blue"},
                                           {"{?who}", "?who=fred"},
                                           {"{?half}", "?half=50%25"},
                                           {"{?x,y}", "?x=1024&y=768"},
                                           {"{?x,y,empty}", "?x=1024&y=768&empty="},
                                           {"{?x,y,undef}", "?x=1024&y=768"},
                                           {"{?var:3}", "?var=val"},
                                           {"{?list}", "?list=red,green,blue"},
                                           {"{?list*}", "?list=red&list=green&list=blue"},
                                           {"{&who}", "&who=fred"},
                                           {"?fixed=yes{&x}", "?fixed=yes&x=1024"},
                                           {"{&x,y,empty}", "&x=1024&y=768&empty="},
                                           {"{&var:3}", "&var=val"},
                                           {"{&list*}", "&list=red&list=green&list=blue"}}) {
        INFO(row.text);
        std::string why;
        const auto parsed = UriTemplate::parse(row.text, why);
        REQUIRE(parsed);
        CHECK(parsed->expand(rfc_variable) == row.expanded);
    }
}

TEST_CASE("texts that are no templates", "[uri_template]") {
    for (const std::string text :
         {"{", "}", "a{b", "a}b", "{}", "{+}", "{a b}", "{a:0}", "{a:x}", "{a,}", "{.}", "{!a}"}) {
        INFO(text);
        std::string why;
        CHECK_FALSE(UriTemplate::parse(text, why));
        CHECK_FALSE(why.empty());
    }
}

TEST_CASE("percent encoding comes off again", "[uri_template]") {
    CHECK(percent_decoded("S%C3%A8vres%20%26%20Cie") == "S\u00e8vres & Cie");
    CHECK(percent_decoded("100%") == "100%");
    CHECK(percent_decoded("%zz%4") == "%zz%4");
}
