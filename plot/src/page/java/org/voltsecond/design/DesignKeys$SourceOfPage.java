package org.voltsecond.design;

import org.teavm.jso.JSBody;

/** {@link DesignKeys.Source} in a page, which carries the table as a text of its own. */
final class DesignKeys$SourceOfPage {
    private DesignKeys$SourceOfPage() {}

    @JSBody(script = "return globalThis.voltsecondKeys;")
    static native String lines();
}
