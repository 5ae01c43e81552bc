package org.voltsecond.reference;

import java.lang.reflect.AnnotatedElement;
import java.util.Optional;
import net.jqwik.api.lifecycle.AroundPropertyHook;
import net.jqwik.api.lifecycle.PropagationMode;
import net.jqwik.api.lifecycle.PropertyAttributes;
import net.jqwik.api.lifecycle.PropertyExecutionResult;
import net.jqwik.api.lifecycle.PropertyExecutor;
import net.jqwik.api.lifecycle.PropertyLifecycleContext;

/**
 * What every property draws: in the build the same each time, so that a run tells of the change and not of chance; with
 * {@code -Dvoltsecond.draws=anew} (profile {@code draws-anew}) anew each time, and ten times as much.
 */
public final class Draws implements AroundPropertyHook {
    private static final String SEED = "20130517";
    private static final int MORE = 10;
    /** What jqwik takes where a property names no number of tries. */
    private static final int USUAL_TRIES = 1000;

    /**
     * Tells whether properties draw anew.
     *
     * @return true if so; false in the build
     */
    public static boolean anew() {
        return "anew".equals(System.getProperty("voltsecond.draws"));
    }

    @Override
    public PropertyExecutionResult aroundProperty(PropertyLifecycleContext context, PropertyExecutor property) {
        PropertyAttributes attributes = context.attributes();
        if (anew()) {
            attributes.setTries(MORE * attributes.tries().orElse(USUAL_TRIES));
        } else if (attributes.seed().isEmpty()) {
            attributes.setSeed(SEED);
        }
        return property.execute();
    }

    @Override
    public boolean appliesTo(Optional<AnnotatedElement> element) {
        return true;
    }

    @Override
    public PropagationMode propagateTo() {
        return PropagationMode.ALL_DESCENDANTS;
    }
}
