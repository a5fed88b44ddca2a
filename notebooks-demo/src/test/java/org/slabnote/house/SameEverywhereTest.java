package org.slabnote.house;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static org.assertj.core.api.Assertions.assertThat;

import com.tngtech.archunit.base.DescribedPredicate;
import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import java.util.Locale;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** Nothing that differs between machines, runs, locales or Java versions gets into a result. */
class SameEverywhereTest {
  @ParameterizedTest
  @EnumSource
  void noModuleUses(Forbidden thing) {
    noClasses()
        .that(House.outside(thing.exemptModules()))
        .should()
        .accessTargetWhere(DescribedPredicate.describe("it is " + thing, thing::matches))
        .check(House.CLASSES);
  }

  /** The rule itself can fail: every line of the sample's method of that name is an offence. */
  @ParameterizedTest
  @EnumSource
  void theRuleSeesEachOffence(Forbidden thing) {
    JavaClass sample = new ClassFileImporter().importClass(Offences.class);
    String method = thing.name().toLowerCase(Locale.ROOT);
    assertThat(sample.getAccessesFromSelf().stream()
            .filter(access -> access.getOrigin().getName().equals(method))
            .filter(thing::matches)
            .map(access -> access.getLineNumber())
            .distinct())
        .hasSize(Offences.LINES.get(thing));
  }
}
