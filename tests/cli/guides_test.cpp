// SPDX-License-Identifier: Apache-2.0
// Every command says what it is for, shows an example and explains each of its options; help, man pages and
// completions are made from that.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <CLI/CLI.hpp>
#include <algorithm>

#include "command.h"
#include "command_tree.h"
#include "guides.h"
#include "loamway/base/error.h"

namespace {

using namespace loamway;
using ::testing::HasSubstr;

struct Program {
    CLI::App app{"about", "loamway"};
    Chosen chosen;
    Program() {
        use_help_with_guides(app);
        add_all_commands(app, chosen);
    }
};

TEST(Guides, EveryCommandHasItsGuideAndEveryGuideItsCommand) {
    const Program p;
    const std::vector<CommandNode> commands = all_commands(p.app);
    ASSERT_GT(commands.size(), 40u);
    for (const CommandNode& c : commands) {
        SCOPED_TRACE(c.path);
        const Guide* guide = guide_of(c.path);
        ASSERT_NE(guide, nullptr);
        EXPECT_GE(guide->purpose.size(), 15u);
        if (commands_below(*c.app).empty()) {
            EXPECT_THAT(std::string(guide->examples), HasSubstr("loamway " + c.path));
        }
    }
    EXPECT_EQ(guides().size(), commands.size());
}

TEST(Guides, EveryOptionIsExplained) {
    const Program p;
    for (const CommandNode& c : all_commands(p.app))
        for (const OptionWords& o : options_of(*c.app)) {
            SCOPED_TRACE(c.path + " " + o.names.front());
            EXPECT_GE(o.text.size(), 2u);
        }
}

TEST(Guides, HelpSaysPurposeExamplesAndStatuses) {
    const Program p;
    const std::string help = p.app.get_subcommand("export")->help("loamway");
    for (const char* part :
         {"navigators", "Examples:\n  loamway export plan.json", "Exit status:\n  0  done\n  1  "})
        EXPECT_THAT(help, HasSubstr(part));
}

TEST(Guides, ManPagesTakeNoTextForAnOrder) {
    const Program p;
    const std::string page = man_page(p.app, *p.app.get_subcommand("plan"));
    EXPECT_TRUE(page.starts_with(".TH LOAMWAY\\-PLAN 1 ")) << page.substr(0, 80);
    EXPECT_THAT(page, HasSubstr("\\fB\\-\\-air\\fR \\fIC\\fR\n"));
    // The backslash at the end of an example's line stands for itself.
    EXPECT_THAT(page, HasSubstr("places.geojson \\e\n"));
}

TEST(Guides, CompletionIsForThreeShells) {
    const Program p;
    EXPECT_THROW((void)completion(p.app, "tea"), Error);
    for (const char* shell : {"bash", "zsh", "fish"}) {
        EXPECT_THAT(completion(p.app, shell), HasSubstr("ledger belts add"));
        EXPECT_THAT(completion(p.app, shell), ::testing::Not(HasSubstr("describe\n")));
    }
}

}  // namespace
