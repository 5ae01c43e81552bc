package org.voltsecond.plot.live;

import org.teavm.jso.JSBody;

/** In place of tables of all characters in the compiler's class library: those of the browser. */
final class PageCharacters {
    private PageCharacters() {}

    /** As {@code Character.getType}: the general category of Unicode by its place among the constants of Java, of which 17 is none. */
    @JSBody(
            params = "point",
            script =
                    "return ['Lu','Ll','Lt','Lm','Lo','Mn','Me','Mc','Nd','Nl','No','Zs','Zl','Zp','Cc','Cf','','Co','Cs',"
                            + "'Pd','Ps','Pe','Pc','Po','Sm','Sc','Sk','So','Pi','Pf'].findIndex(function(name) { return name && "
                            + "new RegExp('\\\\p{' + name + '}', 'u').test(String.fromCodePoint(point)); }) + 1;")
    static native int type(int point);

    /** As {@code Character.toLowerCase}. */
    @JSBody(params = "point", script = "return String.fromCodePoint(point).toLowerCase().codePointAt(0);")
    static native int lower(int point);
}
